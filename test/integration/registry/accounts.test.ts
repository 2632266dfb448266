import { afterAll, describe, expect, it } from 'vitest';
import { FREE_TRIES } from '@/lib/access/delays';
import { askForAccount } from '@/lib/registry/accounts/askForAccount';
import { becomeSteward } from '@/lib/registry/accounts/becomeSteward';
import { changePassword } from '@/lib/registry/accounts/changePassword';
import { setRole } from '@/lib/registry/accounts/setRole';
import { signIn } from '@/lib/registry/accounts/signIn';
import { signInExternal } from '@/lib/registry/accounts/signInExternal';
import { signUp } from '@/lib/registry/accounts/signUp';
import { ensureStewardCode } from '@/lib/registry/accounts/stewardCode';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import { freshDatabase } from '@/test/helpers/database';
import { letterBox } from '@/test/helpers/letterBox';
import { person, registryOn, STRONG_PASSWORD } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);
const box = letterBox();

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

describe('a registry whose first account did not take the code', () => {
  const wrong = { stewardCode: 'AAAA-AAAA-AAAA' };

  async function withoutSteward() {
    const { prisma: db } = await freshDatabase();
    const opened = await registryOn(db);
    const { accountId } = await signUp(opened.registry, account('early@people.example'));
    return { ...opened, db, actor: { accountId, role: 'tester' as const } };
  }

  it('prints a code at the next start, and the account enters it later', async () => {
    const { registry: fresh, db, actor, remove: removeFresh } = await withoutSteward();
    const code = await ensureStewardCode(fresh);
    expect(code).not.toBeNull();
    await becomeSteward(fresh, actor, { stewardCode: code });
    expect(await db.account.findUniqueOrThrow({ where: { id: actor.accountId } })).toMatchObject({
      role: 'steward',
      sessionEpoch: 0,
    });
    expect(await db.auditEntry.findFirst({ where: { action: 'account.becomeSteward' } })).toMatchObject({
      actorId: actor.accountId,
      details: { from: 'tester', to: 'steward' },
    });
    expect(await ensureStewardCode(fresh)).toBeNull();
    const second = await person(fresh, 'Second Hand');
    await expect(becomeSteward(fresh, second, { stewardCode: code })).rejects.toThrow(InvalidInput);
    removeFresh();
  });

  it('takes it at a later sign-up too, and gives it to one of two who enter it at once', async () => {
    const { registry: fresh, db, actor, remove: removeFresh } = await withoutSteward();
    const code = await ensureStewardCode(fresh);
    const results = await Promise.allSettled([
      becomeSteward(fresh, actor, { stewardCode: code }),
      signUp(fresh, account('late@people.example', { stewardCode: code })),
    ]);
    expect(results.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    expect(await db.account.count({ where: { role: 'steward' } })).toBe(1);
    removeFresh();
  });

  it('is found by nobody who tries: wrong codes wait, of one account and from one network', async () => {
    const { registry: fresh, db, clock: time, actor, remove: removeFresh } = await withoutSteward();
    const code = await ensureStewardCode(fresh);
    const free = FREE_TRIES.stewardCode;
    const saidOf = (act: Promise<unknown>) => act.catch((error) => error.issues[0].what);
    for (let tries = 0; tries <= free; tries += 1)
      expect(await saidOf(becomeSteward(fresh, actor, wrong))).toMatch(/not valid/);
    await expect(becomeSteward(fresh, actor, { stewardCode: code })).rejects.toMatchObject({
      waitS: 1,
      issues: [
        { path: 'stewardCode', what: 'Too many wrong steward codes.', fix: 'Try again in one second.' },
      ],
    });
    expect(await db.auditEntry.findFirst({ where: { action: 'account.delayed' } })).toMatchObject({
      actorId: actor.accountId,
      details: { thing: 'stewardCode' },
    });
    const said = await Promise.all(
      Array.from({ length: free + 5 }, (_, i) =>
        saidOf(signUp(fresh, account(`guess${i}@people.example`, wrong))),
      ),
    );
    expect(said.filter((what) => what === 'This steward code is not valid.')).toHaveLength(free + 1);
    time.now = new Date(time.now.getTime() + 1000);
    await becomeSteward(fresh, actor, { stewardCode: code });
    removeFresh();
  });

  it('counts no try that failed for another reason than its code', async () => {
    const { registry: fresh, db, remove: removeFresh } = await withoutSteward();
    const code = await ensureStewardCode(fresh);
    const taken = account('early@people.example', { stewardCode: code });
    await expect(signUp(fresh, taken)).rejects.toMatchObject({ issues: [{ path: 'email' }] });
    expect((await db.tryCount.findMany()).every(({ tries }) => tries === 0)).toBe(true);
    await signUp(fresh, { ...taken, email: 'free@people.example' });
    removeFresh();
  });

  it('does not hand the record to an account of the demo world', async () => {
    const { registry: fresh, remove: removeFresh } = await withoutSteward();
    const demo = await person({ ...fresh, world: 'demo' }, 'Demo Hand');
    const code = await ensureStewardCode(fresh);
    await expect(becomeSteward(fresh, { ...demo, world: 'demo' }, { stewardCode: code })).rejects.toThrow(
      NotAllowed,
    );
    await expect(becomeSteward(fresh, undefined, { stewardCode: code })).rejects.toThrow(NotAllowed);
    removeFresh();
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
    ['common with a change', 'P@ssw0rd123!'],
    ['a row of the keyboard', 'qwertyuiop12'],
    ['the person’s own name', 'ilse varga ilse'],
    ['the person’s address', 'Weak@People.Example'],
    ['words of the site', 'evenloop-steward'],
    ['a word of the site with signs in it', 'Ev3nl00pEv3nl00p'],
  ])('refuses a password that is %s', async (_why, password) => {
    await expect(signUp(registry, account('weak@people.example', { password }))).rejects.toMatchObject({
      issues: [{ path: 'password' }],
    });
  });

  it('answers a visitor the same where the address has an account, and leaves that as it is', async () => {
    await askForAccount(registry, box.mail, account('held@people.example', { displayName: 'Held Holder' }));
    const before = await prisma.account.findUniqueOrThrow({ where: { email: 'held@people.example' } });
    const again = { displayName: 'Somebody Else', password: 'another fine long password' };
    expect(await askForAccount(registry, box.mail, account('held@people.example', again))).toBeUndefined();
    expect(await prisma.account.findUniqueOrThrow({ where: { email: 'held@people.example' } })).toEqual(
      before,
    );
    expect(await prisma.auditEntry.count({ where: { action: 'account.signUpAgain' } })).toBe(1);
    expect(box.letters.map(({ to, subject }) => [to, subject])).toEqual([
      ['held@people.example', 'Confirm your e-mail address'],
      ['held@people.example', 'You have an account already'],
    ]);
    const said = (email: string, changes = {}) =>
      askForAccount(registry, box.mail, account(email, { stewardCode: 'AAAA-AAAA-AAAA', ...changes })).catch(
        (error) => JSON.stringify(error.issues),
      );
    expect(await said('held@people.example')).toBe(await said('unheld@people.example'));
  });

  it('cannot forge a role', async () => {
    const { accountId } = await signUp(registry, account('forger@people.example', { role: 'steward' }));
    expect((await prisma.account.findUniqueOrThrow({ where: { id: accountId } })).role).toBe('tester');
  });
});

describe('sign-in', () => {
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

describe('the password', () => {
  it('changes only with the current one', async () => {
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
