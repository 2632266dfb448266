import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { FREE_TRIES } from '@/lib/access/delays';
import {
  beginSecondFactor,
  confirmSecondFactor,
  endSecondFactor,
  readSecondFactor,
} from '@/lib/registry/accounts/secondFactor';
import { signIn } from '@/lib/registry/accounts/signIn';
import { codeAt } from '@/lib/registry/accounts/timeCode';
import { Conflict, InvalidInput, NotAllowed, TooSoon } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { person, registryOn, STRONG_PASSWORD } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

let number = 0;
let actor: Actor;
let email: string;
beforeEach(async () => {
  number += 1;
  email = `oda.lind.${number}@people.example`;
  actor = await person(registry, `Oda Lind ${number}`);
});
const pass = (seconds: number) => {
  clock.now = new Date(clock.now.getTime() + seconds * 1000);
};
const enter = (code?: string, password = STRONG_PASSWORD) => signIn(registry, { email, password, code });

async function begun(): Promise<string> {
  await beginSecondFactor(registry, actor);
  const view = await readSecondFactor(registry, actor);
  if (view.state !== 'begun') throw new Error('not begun');
  return view.secret;
}

/** In use, and the clock beyond the step of the first code. */
async function inUse() {
  const secret = await begun();
  const code = codeAt(secret, clock.now);
  const { recoveryCodes } = await confirmSecondFactor(registry, actor, { code });
  const code30 = () => codeAt(secret, clock.now);
  const used = code;
  return { secret, recoveryCodes, used, code: code30 };
}

describe('a second factor', () => {
  it('is asked for once a first code proved that the device has it', async () => {
    const secret = await begun();
    expect(await enter()).toMatchObject({ ok: true });
    await expect(confirmSecondFactor(registry, actor, { code: '000000' })).rejects.toMatchObject({
      issues: [{ path: 'code' }],
    });
    const grouped = codeAt(secret, clock.now).replace(/(...)/, '$1 ');
    const { recoveryCodes } = await confirmSecondFactor(registry, actor, { code: grouped });
    expect(new Set(recoveryCodes).size).toBe(10);
    expect(await enter()).toEqual({ ok: false, reason: 'codeNeeded' });
    expect(await readSecondFactor(registry, actor)).toMatchObject({ state: 'inUse', recoveryCodesLeft: 10 });
    const stored = JSON.stringify(await prisma.recoveryCode.findMany());
    for (const code of recoveryCodes) expect(stored).not.toContain(code);
    await expect(beginSecondFactor(registry, actor)).rejects.toThrow(Conflict);
    await expect(confirmSecondFactor(registry, actor, { code: grouped })).rejects.toThrow(Conflict);
  });

  it('takes each code of the app once, also of two who enter it at once', async () => {
    const { used, code } = await inUse();
    expect(await enter(used)).toEqual({ ok: false, reason: 'wrongCode' });
    pass(60);
    const results = await Promise.all([enter(code()), enter(code())]);
    expect(results.filter(({ ok }) => ok)).toHaveLength(1);
    pass(60);
    expect(await enter(code())).toMatchObject({ ok: true });
  });

  it('takes each recovery code once, of its own account alone', async () => {
    const { recoveryCodes } = await inUse();
    const [first = '', second = ''] = recoveryCodes;
    expect(await enter(first.toLowerCase().replaceAll('-', ' '))).toMatchObject({ ok: true });
    expect(await enter(first)).toEqual({ ok: false, reason: 'wrongCode' });
    expect(await readSecondFactor(registry, actor)).toMatchObject({ recoveryCodesLeft: 9 });
    expect(
      await prisma.auditEntry.count({
        where: { action: 'account.useRecoveryCode', actorId: actor.accountId },
      }),
    ).toBe(1);
    const owner = email;
    actor = await person(registry, `Teo Marsh ${number}`);
    email = `teo.marsh.${number}@people.example`;
    await inUse();
    expect(await enter(second)).toEqual({ ok: false, reason: 'wrongCode' });
    email = owner;
    expect(await enter(second)).toMatchObject({ ok: true });
  });

  it('says nothing of itself to who has not the password, and is not found by trying', async () => {
    const { code } = await inUse();
    expect(await enter(undefined, 'wrong')).toEqual({ ok: false, reason: 'wrong' });
    pass(3600);
    for (let tries = 0; tries <= FREE_TRIES.account; tries += 1) {
      expect(await enter('000000')).toEqual({ ok: false, reason: 'wrongCode' });
      // Asking without a code in between does not begin the count anew.
      if (tries < FREE_TRIES.account) expect(await enter()).toEqual({ ok: false, reason: 'codeNeeded' });
    }
    expect(await enter(code())).toEqual({ ok: false, reason: 'tooSoon', waitS: 1 });
    pass(1);
    expect(await enter(code())).toMatchObject({ ok: true });
  });

  it('is taken off with a code alone, and its recovery codes with it', async () => {
    const { recoveryCodes, code } = await inUse();
    await expect(endSecondFactor(registry, undefined, { code: code() })).rejects.toThrow(NotAllowed);
    for (let tries = 0; tries <= FREE_TRIES.code; tries += 1)
      await expect(endSecondFactor(registry, actor, { code: '000000' })).rejects.toThrow(InvalidInput);
    await expect(endSecondFactor(registry, actor, { code: recoveryCodes[0] })).rejects.toThrow(TooSoon);
    pass(60);
    await endSecondFactor(registry, actor, { code: code() });
    expect(await readSecondFactor(registry, actor)).toEqual({ state: 'none' });
    expect(await prisma.recoveryCode.count({ where: { accountId: actor.accountId } })).toBe(0);
    expect(await enter()).toMatchObject({ ok: true });
    const told = await prisma.auditEntry.findMany({
      where: { actorId: actor.accountId, action: { contains: 'SecondFactor' } },
      orderBy: { id: 'asc' },
    });
    expect(told.map(({ action }) => action)).toEqual([
      'account.beginSecondFactor',
      'account.useSecondFactor',
      'account.endSecondFactor',
    ]);
  });
});
