import { afterAll, describe, expect, it } from 'vitest';
import { changePassword } from '@/lib/registry/accounts/changePassword';
import { currentActor } from '@/lib/registry/accounts/currentActor';
import { setRole } from '@/lib/registry/accounts/setRole';
import { signIn } from '@/lib/registry/accounts/signIn';
import { signInExternal } from '@/lib/registry/accounts/signInExternal';
import { signOutEverywhere } from '@/lib/registry/accounts/signOutEverywhere';
import { signUp } from '@/lib/registry/accounts/signUp';
import { ensureStewardCode } from '@/lib/registry/accounts/stewardCode';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import { freshDatabase } from '@/test/helpers/database';
import { person, registryOn, STRONG_PASSWORD } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const account = (email: string, changes = {}) => ({
  email,
  displayName: 'Ilse Varga',
  password: STRONG_PASSWORD,
  ...changes,
});

describe('the first account', () => {
  it('becomes steward with the code printed at start, once', async () => {
    const superseded = await ensureStewardCode(registry);
    const code = await ensureStewardCode(registry);
    expect(code).toMatch(/^[A-Z2-9]{4}-[A-Z2-9]{4}-[A-Z2-9]{4}$/);
    await expect(
      signUp(registry, account('a@people.example', { stewardCode: superseded })),
    ).rejects.toMatchObject({
      issues: [{ path: 'stewardCode' }],
    });
    // Typed by hand: lower case and without hyphens is the same code.
    const typed = code?.toLowerCase().replaceAll('-', ' ');
    const { accountId } = await signUp(registry, account('a@people.example', { stewardCode: typed }));
    const first = await prisma.account.findUniqueOrThrow({ where: { id: accountId } });
    expect(first.role).toBe('steward');
    expect(await ensureStewardCode(registry)).toBeNull();
    await expect(signUp(registry, account('b@people.example', { stewardCode: code }))).rejects.toThrow(
      InvalidInput,
    );
  });
});

describe('sign-up', () => {
  it('keeps the password as argon2id and the address in lower case', async () => {
    const { accountId } = await signUp(registry, account('Mixed.Case@People.Example'));
    const stored = await prisma.account.findUniqueOrThrow({ where: { id: accountId } });
    expect(stored.passwordHash).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    expect(stored.email).toBe('mixed.case@people.example');
    expect(stored.role).toBe('tester');
  });

  it('refuses a second account for an address, also when both come at once', async () => {
    const results = await Promise.allSettled([
      signUp(registry, account('twice@people.example')),
      signUp(registry, account('TWICE@people.example')),
    ]);
    expect(results.filter((result) => result.status === 'fulfilled')).toHaveLength(1);
    expect(results.find((result) => result.status === 'rejected')?.reason).toMatchObject({
      issues: [{ path: 'email' }],
    });
  });

  it.each([
    ['short', 'seven7!'],
    ['common', 'password123'],
    ['the person’s own name', 'ilse varga ilse'],
  ])('refuses a password that is %s', async (_why, password) => {
    await expect(signUp(registry, account('weak@people.example', { password }))).rejects.toMatchObject({
      issues: [{ path: 'password' }],
    });
  });

  it('cannot forge a role', async () => {
    const { accountId } = await signUp(registry, account('forger@people.example', { role: 'steward' }));
    expect((await prisma.account.findUniqueOrThrow({ where: { id: accountId } })).role).toBe('tester');
  });
});

describe('sign-in', () => {
  it('takes the right password only and closes an address after ten failures for a quarter of an hour', async () => {
    await signUp(registry, account('closed@people.example'));
    const wrong = { email: 'closed@people.example', password: 'not this one at all' };
    expect(await signIn(registry, { ...wrong, password: STRONG_PASSWORD })).toMatchObject({ ok: true });
    for (let tries = 0; tries < 10; tries += 1) {
      expect(await signIn(registry, wrong)).toEqual({ ok: false, reason: 'wrong' });
    }
    const right = { email: 'closed@people.example', password: STRONG_PASSWORD };
    expect(await signIn(registry, right)).toEqual({ ok: false, reason: 'tooManyTries' });
    clock.now = new Date(clock.now.getTime() + 16 * 60_000);
    expect(await signIn(registry, right)).toMatchObject({ ok: true });
  });

  it('says the same of an unknown address as of a wrong password', async () => {
    expect(await signIn(registry, { email: 'nobody@people.example', password: 'x' })).toEqual({
      ok: false,
      reason: 'wrong',
    });
  });

  it('through a provider opens an account but never takes over one with a password', async () => {
    const profile = {
      provider: 'oidc',
      providerAccountId: '42',
      email: 'new@people.example',
      isEmailVerified: true,
      name: 'Nuria Bel',
    };
    const opened = await signInExternal(registry, profile);
    expect(await signInExternal(registry, profile)).toMatchObject({ accountId: opened?.accountId });
    await signUp(registry, account('owned@people.example'));
    const lookAlike = { ...profile, providerAccountId: '43', email: 'owned@people.example' };
    expect(await signInExternal(registry, lookAlike)).toBeUndefined();
    const unverified = {
      ...profile,
      providerAccountId: '44',
      email: 'x@people.example',
      isEmailVerified: false,
    };
    expect(await signInExternal(registry, unverified)).toBeUndefined();
  });
});

describe('sessions', () => {
  it('end everywhere on request, on a new password and on a change of role', async () => {
    const actor = await person(registry, 'Teo Marsh');
    const token = { accountId: actor.accountId, sessionEpoch: 0 };
    expect(await currentActor(registry, token)).toMatchObject({ role: 'tester' });
    await signOutEverywhere(registry, actor);
    expect(await currentActor(registry, token)).toBeUndefined();
    await changePassword(registry, actor, {
      currentPassword: STRONG_PASSWORD,
      newPassword: 'seven bridges under a quiet moon',
    });
    expect(await currentActor(registry, { ...token, sessionEpoch: 1 })).toBeUndefined();
    const steward = await prisma.account.findFirstOrThrow({ where: { role: 'steward' } });
    await setRole(
      registry,
      { accountId: steward.id, role: 'steward' },
      { accountId: actor.accountId, role: 'reviewer' },
    );
    expect(await currentActor(registry, { ...token, sessionEpoch: 2 })).toBeUndefined();
    expect(await currentActor(registry, { ...token, sessionEpoch: 3 })).toMatchObject({ role: 'reviewer' });
  });

  it('a password changes only with the current one', async () => {
    const actor = await person(registry, 'Oda Lind');
    await expect(
      changePassword(registry, actor, {
        currentPassword: 'guess',
        newPassword: 'another fine long password',
      }),
    ).rejects.toMatchObject({ issues: [{ path: 'currentPassword' }] });
  });
});

describe('roles', () => {
  it('are changed by stewards only, and not by a steward on themselves', async () => {
    const tester = await person(registry, 'Ruth Falk');
    const steward = await prisma.account.findFirstOrThrow({ where: { role: 'steward' } });
    const actor = { accountId: steward.id, role: 'steward' as const };
    await expect(setRole(registry, tester, { accountId: tester.accountId, role: 'steward' })).rejects.toThrow(
      NotAllowed,
    );
    await expect(setRole(registry, actor, { accountId: steward.id, role: 'reader' })).rejects.toThrow(
      Conflict,
    );
    await expect(setRole(registry, actor, { accountId: tester.accountId, role: 'emperor' })).rejects.toThrow(
      InvalidInput,
    );
  });
});
