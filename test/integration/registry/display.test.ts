import { afterAll, describe, expect, it } from 'vitest';
import { currentActor } from '@/lib/registry/accounts/currentActor';
import { keepDisplay, settleDisplay } from '@/lib/registry/accounts/display';
import { signIn } from '@/lib/registry/accounts/signIn';
import { signUp } from '@/lib/registry/accounts/signUp';
import { InvalidInput, NotAllowed } from '@/lib/run/errors';
import { DEFAULT_PREFERENCES, type Preferences } from '@/lib/units/display';
import { freshDatabase } from '@/test/helpers/database';
import { registryOn, STRONG_PASSWORD, tokenOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

const miles: Preferences = { ...DEFAULT_PREFERENCES, consumption: 'mi/kWh', distance: 'mi' };
const dark: Preferences = { ...DEFAULT_PREFERENCES, mark: 'comma', appearance: 'dark' };

async function opened(email: string) {
  await signUp(registry, { email, displayName: 'Ilse Varga', password: STRONG_PASSWORD });
  const session = await signIn(registry, { email, password: STRONG_PASSWORD });
  if (!session.ok) throw new Error('the account does not open');
  return tokenOf(registry, session.accountId);
}

describe('units and appearance of an account', () => {
  it('are taken over from the visitor where the account has none', async () => {
    const session = await opened('new@people.example');
    expect((await currentActor(registry, session))?.preferences).toBeUndefined();
    expect(await settleDisplay(registry, session.accountId, undefined)).toBeUndefined();
    expect(await settleDisplay(registry, session.accountId, miles)).toEqual(miles);
    expect((await currentActor(registry, session))?.preferences).toEqual(miles);
  });

  it('win at sign-in over what the browser kept', async () => {
    const session = await opened('known@people.example');
    const actor = await currentActor(registry, session);
    expect(await keepDisplay(registry, actor, dark)).toEqual(dark);
    expect(await settleDisplay(registry, session.accountId, miles)).toEqual(dark);
    expect(await settleDisplay(registry, session.accountId, undefined)).toEqual(dark);
    const steps = await prisma.auditEntry.count({
      where: { action: 'account.display', subjectId: session.accountId },
    });
    expect(steps).toBe(1);
  });

  it('are refused where a choice is not on offer, and without an account', async () => {
    const session = await opened('other@people.example');
    const actor = await currentActor(registry, session);
    await expect(keepDisplay(registry, actor, { ...dark, wind: 'furlong' })).rejects.toMatchObject({
      issues: [{ path: 'wind' }],
    });
    await expect(keepDisplay(registry, actor, {})).rejects.toThrow(InvalidInput);
    await expect(keepDisplay(registry, undefined, dark)).rejects.toThrow(NotAllowed);
    expect((await currentActor(registry, session))?.preferences).toBeUndefined();
  });

  it('open whatever an older version stored', async () => {
    const session = await opened('old@people.example');
    await prisma.account.update({
      where: { id: session.accountId },
      data: { display: { consumption: 'litres', distance: 'mi', gone: true } },
    });
    expect((await currentActor(registry, session))?.preferences).toEqual({
      ...DEFAULT_PREFERENCES,
      distance: 'mi',
    });
  });
});
