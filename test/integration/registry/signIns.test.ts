import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { LONGEST_MS, MOST_OPEN } from '@/lib/access/signInLimits';
import { changePassword } from '@/lib/registry/accounts/changePassword';
import { currentActor } from '@/lib/registry/accounts/currentActor';
import { setRole } from '@/lib/registry/accounts/setRole';
import { beginSignIn, endSignIn, keyOfSignIn, readSignIns, signOut } from '@/lib/registry/accounts/signIns';
import { signOutEverywhere } from '@/lib/registry/accounts/signOutEverywhere';
import { NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { person, registryOn, STRONG_PASSWORD, signedInAs, tokenOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const pass = (ms: number) => {
  clock.now = new Date(clock.now.getTime() + ms);
};
const acts = (actor: Actor, action: string) =>
  prisma.auditEntry.count({ where: { action, actorId: actor.accountId, subjectId: actor.accountId } });

let number = 0;
let tester: Actor;
beforeEach(async () => {
  number += 1;
  tester = await person(registry, `Teo Marsh ${number}`);
});

describe('a sign-in', () => {
  it('opens the account until it is signed out, also for a copy of its token', async () => {
    const id = await beginSignIn(registry, { accountId: tester.accountId, userAgent: null });
    const token = { accountId: tester.accountId, sessionEpoch: 0, signInKey: keyOfSignIn(id) };
    const other = await tokenOf(registry, tester.accountId);
    expect(await currentActor(registry, token)).toMatchObject({ role: 'tester' });
    await signOut(registry, { accountId: tester.accountId, signInId: id });
    expect(await currentActor(registry, token)).toBeUndefined();
    expect(await currentActor(registry, other)).toMatchObject({ role: 'tester' });
    // Again, by a tab that was left open: nothing more is told.
    await signOut(registry, { accountId: tester.accountId, signInId: id });
    expect(await acts(tester, 'account.signOut')).toBe(1);
  });

  it('is kept without what would open it', async () => {
    const id = await beginSignIn(registry, { accountId: tester.accountId, userAgent: 'Something/1.0' });
    const rows = await prisma.signIn.findMany({ where: { accountId: tester.accountId } });
    expect(rows).toHaveLength(1);
    expect(JSON.stringify(rows)).not.toContain(id);
    expect(JSON.stringify(rows)).not.toContain('Something');
  });

  it('opens no account but its own', async () => {
    const stranger = await person(registry, `Oda Lind ${number}`);
    const token = await tokenOf(registry, tester.accountId);
    expect(await currentActor(registry, { ...token, accountId: stranger.accountId })).toBeUndefined();
  });

  it('is over without use: a tester’s after 30 days, a reviewer’s after 12 hours', async () => {
    const token = await tokenOf(registry, tester.accountId);
    const reviewer = await person(registry, `Rolf Brand ${number}`, 'reviewer');
    const theirs = await tokenOf(registry, reviewer.accountId);
    pass(12 * HOUR_MS);
    expect(await currentActor(registry, theirs)).toBeDefined();
    pass(12 * HOUR_MS);
    expect(await currentActor(registry, theirs)).toBeDefined();
    pass(12 * HOUR_MS + 1);
    expect(await currentActor(registry, theirs)).toBeUndefined();
    expect(await currentActor(registry, token)).toBeDefined();
    pass(30 * 24 * HOUR_MS + 1);
    expect(await currentActor(registry, token)).toBeUndefined();
  });

  it('is over after 90 days, however much it is used', async () => {
    const token = await tokenOf(registry, tester.accountId);
    const begun = clock.now.getTime();
    while (clock.now.getTime() - begun < LONGEST_MS) {
      expect(await currentActor(registry, token)).toBeDefined();
      pass(10 * 24 * HOUR_MS);
    }
    expect(await currentActor(registry, token)).toBeDefined();
    pass(1);
    expect(await currentActor(registry, token)).toBeUndefined();
  });

  it('is seen once in five minutes at most', async () => {
    const token = await tokenOf(registry, tester.accountId);
    const begun = clock.now;
    const seen = async () => {
      await currentActor(registry, token);
      return (await prisma.signIn.findUniqueOrThrow({ where: { key: token.signInKey } })).lastSeenAt;
    };
    pass(4 * MINUTE_MS);
    expect(await seen()).toEqual(begun);
    pass(MINUTE_MS);
    expect(await seen()).toEqual(clock.now);
  });
});

describe('the list of an account', () => {
  it('names the device, says which is this one, and ends each', async () => {
    const firefox = 'Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0';
    const id = await beginSignIn(registry, { accountId: tester.accountId, userAgent: firefox });
    pass(HOUR_MS);
    const actor = await signedInAs(registry, tester.accountId);
    const [mine, other] = await readSignIns(registry, actor);
    expect(mine).toMatchObject({ isThisOne: true, device: 'Unknown browser' });
    expect(other).toMatchObject({ isThisOne: false, device: 'Firefox on Linux', key: keyOfSignIn(id) });
    expect(await endSignIn(registry, actor, { key: other?.key })).toEqual({ wasThisOne: false });
    await expect(endSignIn(registry, actor, { key: other?.key })).rejects.toThrow(NotFound);
    expect(await readSignIns(registry, actor)).toHaveLength(1);
    expect(await acts(tester, 'account.endSignIn')).toBe(1);
    expect(await endSignIn(registry, actor, { key: mine?.key })).toEqual({ wasThisOne: true });
  });

  it('is nobody else’s to read or to end', async () => {
    const stranger = await signedInAs(registry, (await person(registry, `Oda Lind ${number}`)).accountId);
    const token = await tokenOf(registry, tester.accountId);
    await expect(endSignIn(registry, stranger, { key: token.signInKey })).rejects.toThrow(NotFound);
    await expect(endSignIn(registry, undefined, { key: token.signInKey })).rejects.toThrow(NotAllowed);
    await expect(readSignIns(registry, undefined)).rejects.toThrow(NotAllowed);
    expect(await currentActor(registry, token)).toBeDefined();
  });

  it('holds no more than fifty: the one unused for longest is ended', async () => {
    const first = await tokenOf(registry, tester.accountId);
    for (let more = 0; more < MOST_OPEN; more += 1) {
      pass(1);
      await beginSignIn(registry, { accountId: tester.accountId, userAgent: null });
    }
    expect(await currentActor(registry, first)).toBeUndefined();
    expect(await prisma.signIn.count({ where: { accountId: tester.accountId, endedAt: null } })).toBe(
      MOST_OPEN,
    );
    pass(LONGEST_MS + 1);
    await beginSignIn(registry, { accountId: tester.accountId, userAgent: null });
    expect(await prisma.signIn.count({ where: { accountId: tester.accountId } })).toBe(1);
  });
});

describe('all sign-ins of an account', () => {
  it('end on request, on a new password and on a change of role', async () => {
    const refused = async (act: () => Promise<unknown>) => {
      const token = await tokenOf(registry, tester.accountId);
      expect(await currentActor(registry, token)).toBeDefined();
      await act();
      expect(await currentActor(registry, token)).toBeUndefined();
      expect(await prisma.signIn.count({ where: { accountId: tester.accountId, endedAt: null } })).toBe(0);
    };
    await refused(() => signOutEverywhere(registry, tester));
    const newPassword = 'seven bridges under a quiet moon';
    await refused(() => changePassword(registry, tester, { currentPassword: STRONG_PASSWORD, newPassword }));
    const steward = await person(registry, `First Steward ${number}`, 'steward');
    await refused(() => setRole(registry, steward, { accountId: tester.accountId, role: 'reviewer' }));
    expect(await signedInAs(registry, tester.accountId)).toMatchObject({ role: 'reviewer' });
  });

  it('end for one that races with it: the epoch has moved on', async () => {
    const token = await tokenOf(registry, tester.accountId);
    await signOutEverywhere(registry, tester);
    const late = keyOfSignIn(await beginSignIn(registry, { accountId: tester.accountId, userAgent: null }));
    expect(await currentActor(registry, { ...token, signInKey: late })).toBeUndefined();
  });
});
