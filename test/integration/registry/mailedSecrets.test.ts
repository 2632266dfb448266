import { TOTP } from 'otpauth';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { FRESH_MS } from '@/lib/access/fresh';
import { currentActor } from '@/lib/registry/accounts/currentActor';
import { askForAddress, askToProve, proveAddress } from '@/lib/registry/accounts/proveAddress';
import { proveSelf } from '@/lib/registry/accounts/proveSelf';
import { removeLostFactor } from '@/lib/registry/accounts/removeLostFactor';
import { requireFactors } from '@/lib/registry/accounts/requireFactors';
import { askForReset, resetPassword } from '@/lib/registry/accounts/resetPassword';
import { beginSecondFactor, confirmSecondFactor } from '@/lib/registry/accounts/secondFactor';
import { setRole } from '@/lib/registry/accounts/setRole';
import { signIn } from '@/lib/registry/accounts/signIn';
import { adoptRoadLoads } from '@/lib/registry/method/adoptRoadLoads';
import { publishProtocol } from '@/lib/registry/protocol/publishProtocol';
import { Conflict, InvalidInput, NotAllowed, TooSoon } from '@/lib/run/errors';
import { freshDatabase } from '@/test/helpers/database';
import { letterBox } from '@/test/helpers/letterBox';
import { person, registryOn, STRONG_PASSWORD, signedInAs, tokenOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);
const box = letterBox();
const { mail } = box;
const NEW_PASSWORD = 'eleven copper kettles at dawn';

let count = 0;
/** Somebody of the test's own: address, actor, and a clock that no other test's letters wait by. */
async function somebody(role: 'tester' | 'reviewer' | 'steward' = 'tester') {
  count += 1;
  const { accountId } = await person(registry, `Nadia ${count}`, role);
  const email = `nadia.${count}@people.example`;
  return { accountId, email, actor: await signedInAs(registry, accountId) };
}
const stored = (id: string) => prisma.account.findUniqueOrThrow({ where: { id } });
const minutes = (n: number) => {
  clock.now = new Date(clock.now.getTime() + n * 60_000);
};
beforeEach(() => minutes(120));

async function withFactor(accountId: string) {
  const actor = await signedInAs(registry, accountId);
  await beginSecondFactor(registry, actor);
  const { secret } = await prisma.secondFactor.findUniqueOrThrow({ where: { accountId } });
  const code = () => new TOTP({ secret }).generate({ timestamp: clock.now.getTime() });
  await confirmSecondFactor(registry, actor, { code: code() });
  return code;
}

describe('an address', () => {
  it('is proved by the link that was sent to it, once, and by no other', async () => {
    const { accountId, email, actor } = await somebody();
    expect((await stored(accountId)).emailVerifiedAt).toBeNull();
    await askToProve(registry, mail, actor);
    const token = box.secretTo(email);
    expect(await prisma.token.count({ where: { hash: token } })).toBe(0);
    await expect(proveAddress(registry, mail, { token: `${token}x` })).rejects.toThrow(InvalidInput);
    await expect(resetPassword(registry, mail, { token, newPassword: NEW_PASSWORD })).rejects.toThrow(
      InvalidInput,
    );
    const both = [1, 2].map(() => proveAddress(registry, mail, { token }));
    expect((await Promise.allSettled(both)).filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    expect((await stored(accountId)).emailVerifiedAt).toEqual(clock.now);
    await expect(askToProve(registry, mail, actor)).rejects.toThrow(Conflict);
  });

  it('is not proved by a link that is over or was followed by a newer one', async () => {
    const { email, actor } = await somebody();
    await askToProve(registry, mail, actor);
    const first = box.secretTo(email);
    await askToProve(registry, mail, actor);
    await expect(proveAddress(registry, mail, { token: first })).rejects.toThrow(InvalidInput);
    const second = box.secretTo(email);
    minutes(24 * 60);
    await expect(proveAddress(registry, mail, { token: second })).rejects.toThrow(InvalidInput);
  });

  it('changes once the new one is proved; the old one is told, and links to a new password end', async () => {
    const { accountId, email, actor } = await somebody();
    await (await askForReset(registry, mail, { email }))();
    const reset = box.secretTo(email);
    await askForAddress(registry, mail, actor, { email: `New.${email}` });
    expect((await stored(accountId)).email).toBe(email);
    await proveAddress(registry, mail, { token: box.secretTo(`new.${email}`) });
    expect(await stored(accountId)).toMatchObject({ email: `new.${email}`, emailVerifiedAt: clock.now });
    expect(box.lastTo(email)?.text).toMatch(/Another e-mail address was confirmed/);
    await expect(resetPassword(registry, mail, { token: reset, newPassword: NEW_PASSWORD })).rejects.toThrow(
      InvalidInput,
    );
  });

  it('is never taken from another account, and asking does not tell that there is one', async () => {
    const [one, other] = [await somebody(), await somebody()];
    const before = box.letters.length;
    await askForAddress(registry, mail, one.actor, { email: other.email });
    expect(box.letters).toHaveLength(before);
    // Free when it was asked for, taken when the link was opened.
    await askForAddress(registry, mail, one.actor, { email: 'wanted@people.example' });
    await prisma.account.update({
      where: { id: other.accountId },
      data: { email: 'wanted@people.example' },
    });
    await expect(
      proveAddress(registry, mail, { token: box.secretTo('wanted@people.example') }),
    ).rejects.toThrow(InvalidInput);
    expect((await stored(one.accountId)).email).toBe(one.email);
  });

  it('is sent a few letters, then the next has to wait', async () => {
    const { actor } = await somebody();
    for (let i = 0; i < 5; i += 1) await askToProve(registry, mail, actor);
    await expect(askToProve(registry, mail, actor)).rejects.toThrow(TooSoon);
  });
});

describe('a new password by letter', () => {
  it('is answered the same where no account is, and no letter is sent', async () => {
    const before = box.letters.length;
    const work = await askForReset(registry, mail, { email: 'nobody.at.all@people.example' });
    await work();
    expect(box.letters).toHaveLength(before);
    expect(
      await prisma.auditEntry.count({ where: { action: 'account.askForReset', subjectId: 'none' } }),
    ).toBe(1);
  });

  it('is set once, ends every sign-in, and is told', async () => {
    const { accountId, email } = await somebody();
    const old = await tokenOf(registry, accountId);
    await (await askForReset(registry, mail, { email: email.toUpperCase() }))();
    const token = box.secretTo(email);
    // A weak one does not use the link up.
    await expect(resetPassword(registry, mail, { token, newPassword: 'short' })).rejects.toMatchObject({
      issues: [{ path: 'newPassword' }],
    });
    await resetPassword(registry, mail, { token, newPassword: NEW_PASSWORD });
    expect(await currentActor(registry, old)).toBeUndefined();
    expect(await signIn(registry, { email, password: STRONG_PASSWORD })).toMatchObject({ reason: 'wrong' });
    expect(await signIn(registry, { email, password: NEW_PASSWORD })).toMatchObject({ ok: true });
    expect((await stored(accountId)).emailVerifiedAt).toEqual(clock.now);
    expect(box.lastTo(email)?.subject).toBe('Your account was changed');
    await expect(resetPassword(registry, mail, { token, newPassword: `${NEW_PASSWORD}!` })).rejects.toThrow(
      InvalidInput,
    );
  });

  it('leaves the second factor: a letter box alone opens no account that has one', async () => {
    const { accountId, email } = await somebody();
    await withFactor(accountId);
    await (await askForReset(registry, mail, { email }))();
    await resetPassword(registry, mail, { token: box.secretTo(email), newPassword: NEW_PASSWORD });
    expect(await signIn(registry, { email, password: NEW_PASSWORD })).toMatchObject({ reason: 'codeNeeded' });
  });

  it('is asked for a few times an address and a network, then has to wait', async () => {
    const address = '192.0.2.44';
    const asked = (email: string) => askForReset(registry, mail, { email }, address);
    for (let i = 0; i < 5; i += 1) await asked(`list${i}@people.example`);
    await expect(asked('list6@people.example')).rejects.toThrow(TooSoon);
  });
});

describe('a fresh proof', () => {
  it('is asked for before roles, protocol, method and second factors are changed', async () => {
    const { accountId } = await somebody('steward');
    const token = await tokenOf(registry, accountId);
    const other = await somebody();
    minutes(FRESH_MS / 60_000 + 1);
    const stale = await currentActor(registry, token);
    const acts = [
      setRole(registry, stale, { accountId: other.accountId, role: 'reviewer' }),
      publishProtocol(registry, stale, { label: '1', seenVersionId: other.accountId, isConfirmed: true }),
      adoptRoadLoads(registry, stale, {
        world: 'record',
        seenVersionId: null,
        learnedIds: [other.accountId],
        summary: 'Because it is due.',
      }),
      beginSecondFactor(registry, stale),
      removeLostFactor(registry, mail, stale, { accountId: other.accountId, reason: 'met in person' }),
      requireFactors(registry, stale, { areRequired: false }),
      askForAddress(registry, mail, stale, { email: 'elsewhere@people.example' }),
    ];
    for (const act of acts)
      await expect(act).rejects.toMatchObject({ asked: { act: 'actWithoutFreshProof' } });

    await expect(proveSelf(registry, stale, { password: 'not the password' })).rejects.toThrow(InvalidInput);
    await proveSelf(registry, stale, { password: STRONG_PASSWORD });
    await setRole(registry, await currentActor(registry, token), {
      accountId: other.accountId,
      role: 'reviewer',
    });
    expect((await stored(other.accountId)).role).toBe('reviewer');
    // Another sign-in of the same account proved nothing.
    const elsewhere = await tokenOf(registry, accountId);
    minutes(FRESH_MS / 60_000 + 1);
    await proveSelf(registry, await currentActor(registry, token), { password: STRONG_PASSWORD });
    await expect(
      setRole(registry, await currentActor(registry, elsewhere), {
        accountId: other.accountId,
        role: 'tester',
      }),
    ).rejects.toThrow(NotAllowed);
  });

  it('takes the code of a second factor as well, and cannot be found by trying', async () => {
    const { accountId } = await somebody();
    const code = await withFactor(accountId);
    const actor = await signedInAs(registry, accountId);
    minutes(1);
    await expect(proveSelf(registry, actor, { password: STRONG_PASSWORD })).rejects.toMatchObject({
      issues: [{ path: 'code' }],
    });
    await proveSelf(registry, actor, { password: STRONG_PASSWORD, code: code() });
    for (let i = 0; i < 5; i += 1)
      await expect(proveSelf(registry, actor, { password: `wrong ${i}` })).rejects.toThrow(InvalidInput);
    await expect(proveSelf(registry, actor, { password: STRONG_PASSWORD, code: code() })).rejects.toThrow(
      TooSoon,
    );
  });
});

describe('a second factor asked of those who decide', () => {
  it('holds back those without one, locks nobody out, and cannot be asked by who has none', async () => {
    const [steward, reviewer, tester] = [
      await somebody('steward'),
      await somebody('reviewer'),
      await somebody(),
    ];
    await expect(requireFactors(registry, steward.actor, { areRequired: true })).rejects.toThrow(Conflict);
    await expect(requireFactors(registry, reviewer.actor, { areRequired: true })).rejects.toThrow(NotAllowed);
    await withFactor(steward.accountId);
    await requireFactors(registry, await signedInAs(registry, steward.accountId), { areRequired: true });
    expect(await signedInAs(registry, steward.accountId)).toMatchObject({
      role: 'steward',
      heldBack: undefined,
    });
    expect(await signedInAs(registry, tester.accountId)).toMatchObject({
      role: 'tester',
      heldBack: undefined,
    });
    expect(await signedInAs(registry, reviewer.accountId)).toMatchObject({
      role: 'tester',
      heldBack: 'reviewer',
    });
    await withFactor(reviewer.accountId);
    expect(await signedInAs(registry, reviewer.accountId)).toMatchObject({ role: 'reviewer' });
    await requireFactors(registry, await signedInAs(registry, steward.accountId), { areRequired: false });
  });

  it('is taken off when lost, by a steward, with a reason, and the person is told', async () => {
    const [steward, lost] = [await somebody('steward'), await somebody('reviewer')];
    await withFactor(lost.accountId);
    const token = await tokenOf(registry, lost.accountId);
    const input = { accountId: lost.accountId, reason: 'Met in person, with two other testers.' };
    await expect(removeLostFactor(registry, mail, lost.actor, input)).rejects.toThrow(NotAllowed);
    await expect(
      removeLostFactor(registry, mail, steward.actor, { ...input, accountId: steward.accountId }),
    ).rejects.toThrow(Conflict);
    await expect(removeLostFactor(registry, mail, steward.actor, { ...input, reason: 'x' })).rejects.toThrow(
      InvalidInput,
    );
    await removeLostFactor(registry, mail, steward.actor, input);
    await expect(removeLostFactor(registry, mail, steward.actor, input)).rejects.toThrow(Conflict);
    expect(await currentActor(registry, token)).toBeUndefined();
    expect(await prisma.secondFactor.count({ where: { accountId: lost.accountId } })).toBe(0);
    expect(await prisma.notification.count({ where: { accountId: lost.accountId } })).toBe(1);
    expect(box.lastTo(lost.email)?.text).toMatch(/A steward took your second factor off/);
    const entry = await prisma.auditEntry.findFirstOrThrow({
      where: { action: 'account.removeSecondFactor', subjectId: lost.accountId },
    });
    expect(entry).toMatchObject({ details: {}, personal: { reason: input.reason } });
  });
});
