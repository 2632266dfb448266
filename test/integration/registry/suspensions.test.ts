import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FRESH_MS } from '@/lib/access/fresh';
import { appealUntil, suspendedWords } from '@/lib/access/suspension';
import { readPeople } from '@/lib/registry/accounts/people';
import { appealSuspension, liftSuspension, suspendAccount } from '@/lib/registry/accounts/suspend';
import { addCar } from '@/lib/registry/cars/addCar';
import { correctCar } from '@/lib/registry/cars/correctCar';
import { decideCorrection, withdrawCorrection } from '@/lib/registry/corrections/decideCorrection';
import { addLoop } from '@/lib/registry/loops/addLoop';
import { eraseAccount } from '@/lib/registry/privacy/eraseAccount';
import { ownDataZip } from '@/lib/registry/privacy/ownDataZip';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { runJobsNow } from '@/lib/registry/runJobs';
import { myRuns } from '@/lib/registry/runs/myRuns';
import { retractRun } from '@/lib/registry/runs/retractRun';
import { readRun } from '@/lib/registry/runs/run';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { Conflict, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { countOtherReviewers } from '@/lib/store/secondApprovals';
import { freshDatabase } from '@/test/helpers/database';
import { letterBox } from '@/test/helpers/letterBox';
import {
  approved,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  signedInAs,
  submitted,
  type Vehicle,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);
const { mail, lastTo } = letterBox();

const REASON = 'Photos of three runs were drawn, not taken.';
const LIFTED = 'The camera was looked at: they were taken.';
let tester: Actor;
let reviewer: Actor;
let other: Actor;
let steward: Actor;
let vehicle: Vehicle;
let run: SubmittedRunRef;
let ids: { carId: string; setupId: string; loopId: string };

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  other = await person(registry, 'Bea Tarn', 'reviewer');
  steward = await person(registry, 'Jon Sand', 'steward');
  vehicle = await vehicleOf(registry, tester);
  ids = { carId: vehicle.carId, setupId: vehicle.baselineId, loopId: await loopOf(registry, tester) };
  run = await approved(registry, tester, reviewer, { ...ids, startedAtLocal: '2026-05-10T09:00' });
}, 60_000);

const suspend = (of: Actor, by: Actor | undefined = steward) =>
  suspendAccount(registry, mail, by, { accountId: of.accountId, reason: REASON });
const lift = (of: Actor, by: Actor | undefined = steward) =>
  liftSuspension(registry, mail, by, { accountId: of.accountId, reason: LIFTED });
const asked = (who: Actor) => signedInAs(registry, who.accountId);

describe('a suspended tester', () => {
  it('reads, and is refused every write with the reason and how to appeal, until it is lifted', async () => {
    const mass = {
      name: 'Skerry of mine',
      registeredMassKg: 3200,
      placardFrontPa: 290_000,
      placardRearPa: 290_000,
    };
    const proposed = await correctCar(registry, tester, {
      ...mass,
      carId: vehicle.carId,
      reason: 'Another mass stands there.',
    });
    if (proposed.kind !== 'proposed') throw new Error(proposed.kind);
    const before = await prisma.countedRun.findMany({ where: { runId: run.runId } });
    const waiting = await submitted(registry, tester, { ...ids, startedAtLocal: '2026-05-11T09:00' });
    await suspend(tester);
    await expect(suspend(tester)).rejects.toThrow(Conflict);

    const actor = await asked(tester);
    expect(actor).toMatchObject({ role: 'reader', suspension: { reason: REASON, isAppealed: false } });
    const says = suspendedWords({ reason: REASON, placedAt: clock.now, isAppealed: false });
    expect(says).toContain('1\u00A0Dec\u00A02026');
    const draft = { creationKey: crypto.randomUUID(), form: ids };
    const correctionId = (await prisma.correction.findUniqueOrThrow({ where: { number: proposed.number } }))
      .id;
    for (const write of [
      () => startDraft(registry, actor, draft),
      () => addCar(registry, actor, { ...mass, modelId: vehicle.modelId }),
      () => addLoop(registry, actor, {}),
      () => retractRun(registry, actor, { runId: run.runId, reason: 'It was not my own drive.' }),
      () => withdrawCorrection(registry, actor, { correctionId }),
    ])
      await expect(write()).rejects.toThrow(says);

    // what it has is read, by itself and, where it is published, by all
    expect((await myRuns(registry, actor)).counts.get('submitted')).toBe(1);
    expect((await readRun(registry, actor, waiting.runNumber))?.status).toBe('submitted');
    expect(await ownDataZip(registry, actor)).toBeDefined();
    expect(await prisma.countedRun.findMany({ where: { runId: run.runId } })).toEqual(before);

    // what waits of it is decided on: runs, and corrections of what counts
    await claimRun(registry, reviewer, { runId: waiting.runId });
    await decideReview(registry, reviewer, {
      runId: waiting.runId,
      revisionNumber: waiting.revisionNumber,
      kind: 'approve',
    });
    await runJobsNow(registry);
    const { id, computation } = await prisma.correction.findUniqueOrThrow({
      where: { number: proposed.number },
    });
    await decideCorrection(registry, reviewer, {
      correctionId: id,
      computation,
      kind: 'approve',
      reason: 'The papers agree.',
    });
    expect(await prisma.correction.findUniqueOrThrow({ where: { id } })).toMatchObject({ state: 'approved' });

    expect((await lastTo('mira.holm@people.example'))?.text).toContain(REASON);
    expect(await prisma.notification.findMany({ where: { kind: 'account.suspend' } })).toMatchObject([
      { accountId: tester.accountId, text: says, href: '/account' },
    ]);
    const entry = await prisma.auditEntry.findFirstOrThrow({ where: { action: 'account.suspend' } });
    // the reason is the person's: the log commits to it and lets go of it with them
    expect(entry).toMatchObject({ personalOf: tester.accountId, personal: { reason: REASON }, details: {} });

    await lift(tester);
    await expect(lift(tester)).rejects.toThrow(Conflict);
    expect(await asked(tester)).toMatchObject({ role: 'tester', suspension: undefined });
    await startDraft(registry, await asked(tester), draft);
    expect(await prisma.auditEntry.count({ where: { action: 'account.liftSuspension' } })).toBe(1);
  });

  it('appeals once and within its time, and stewards read it', async () => {
    const words = 'The photos were taken with a camera that stamps its own frame.';
    await expect(appealSuspension(registry, await asked(tester), { words })).rejects.toThrow(Conflict);
    await suspend(tester);
    const since = clock.now;
    clock.now = new Date(appealUntil({ placedAt: since }).getTime() + 1);
    await expect(appealSuspension(registry, await asked(tester), { words })).rejects.toThrow('is over');
    clock.now = appealUntil({ placedAt: since });
    const early = await asked(tester);
    await appealSuspension(registry, early, { words });
    await expect(appealSuspension(registry, early, { words })).rejects.toThrow(Conflict);
    expect(suspendedWords((await asked(tester)).suspension ?? never())).toContain('is with the stewards');
    const { rows, total } = await readPeople(registry, steward, { onlySuspended: true });
    expect(rows).toMatchObject([{ id: tester.accountId, suspension: { reason: REASON, appeal: words } }]);
    expect(total).toBe(1);
    await lift(tester);
    clock.now = since;
  });

  it('is told nowhere in public', async () => {
    await suspend(tester);
    const published = JSON.stringify(await readRun(registry, undefined, run.runNumber));
    expect(published).not.toContain(REASON);
    expect(published).not.toMatch(/suspen/i);
    await lift(tester);
  });
});

describe('a suspended reviewer', () => {
  it('holds no run, decides on none and is not counted among those who could', async () => {
    const sent = await submitted(registry, tester, { ...ids, startedAtLocal: '2026-05-12T09:00' });
    const revision = await prisma.runRevision.findFirstOrThrow({ where: { runId: sent.runId } });
    const subjects = {
      world: 'record',
      revisionId: revision.id,
      testerId: tester.accountId,
      modelId: null,
      makerId: null,
    } as const;
    const others = () => countOtherReviewers(prisma, { ...subjects, exceptId: steward.accountId });
    expect(await others()).toBe(2);
    await claimRun(registry, reviewer, { runId: sent.runId });
    await suspend(reviewer);
    expect(await others()).toBe(1);
    await expect(claimRun(registry, await asked(reviewer), { runId: sent.runId })).rejects.toThrow(REASON);
    await claimRun(registry, other, { runId: sent.runId });
    await lift(reviewer);
  });
});

describe('who suspends', () => {
  it('is a steward with a fresh proof, nobody else, and not oneself', async () => {
    for (const by of [tester, reviewer]) await expect(suspend(other, by)).rejects.toThrow(NotAllowed);
    await expect(
      suspendAccount(registry, mail, undefined, { accountId: other.accountId, reason: REASON }),
    ).rejects.toThrow(NotAllowed);
    const stale = { ...steward, provedAt: new Date(clock.now.getTime() - FRESH_MS - 1) };
    await expect(suspend(other, stale)).rejects.toThrow('Confirm first');
    await expect(suspend(steward)).rejects.toThrow(Conflict);
  });

  it('leaves one steward who can act, also where two suspend each other at once', async () => {
    const second = await person(registry, 'Ida Vogt', 'steward');
    const both = await Promise.allSettled([suspend(second, steward), suspend(steward, second)]);
    expect(both.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    const open = await prisma.suspension.findMany({ where: { liftedAt: null } });
    expect(open).toHaveLength(1);
    const [left, kept] = open[0]?.accountId === second.accountId ? [steward, second] : [second, steward];
    // the one who is left is the last one there is
    await expect(eraseAccount(registry, left, { isConfirmed: true })).rejects.toThrow('only steward');
    await lift(kept, left);
  });

  it('does not keep the person from going, and what was said of them goes along', async () => {
    const leaver = await person(registry, 'Nils Aas');
    await suspend(leaver);
    await eraseAccount(registry, await asked(leaver), { isConfirmed: true });
    const rows = await prisma.suspension.findMany({ where: { accountId: leaver.accountId } });
    expect(rows).toMatchObject([{ reason: 'erased', appeal: null }]);
  });
});

function never(): never {
  throw new Error('not suspended');
}
