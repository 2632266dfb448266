import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { declareInterest, endInterest, readInterests } from '@/lib/registry/review/interests';
import { readQueue } from '@/lib/registry/review/queue';
import { nextReview, readReview } from '@/lib/registry/review/review';
import { appealRun } from '@/lib/registry/runs/appealRun';
import { withdrawRun } from '@/lib/registry/runs/retractRun';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '../../helpers/database';
import { loopOf, person, registryOn, submitted, type Vehicle, vehicleOf } from '../../helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove, clock } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let vehicle: Vehicle;
let ada: Actor;
let pelle: Actor;
let tove: Actor;
let form: Record<string, string>;
let day = 10;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  ada = await person(registry, 'Ada Quill', 'reviewer');
  pelle = await person(registry, 'Pelle Strand', 'reviewer');
  tove = await person(registry, 'Tove Arn', 'reviewer');
  vehicle = await vehicleOf(registry, tester);
  form = { carId: vehicle.carId, setupId: vehicle.baselineId, loopId: await loopOf(registry, tester) };
}, 120_000);

async function waiting(changes: Record<string, string> = {}) {
  day += 1;
  clock.now = new Date(clock.now.getTime() + 60_000);
  return submitted(registry, tester, { ...form, startedAtLocal: `2026-06-${day}T09:00`, ...changes });
}

const stateOf = (id: string) => prisma.run.findUniqueOrThrow({ where: { id } });
const REASONS = [{ ruleId: 'wind', text: 'The wind on the photo is another one.' }];

async function decide(actor: Actor, runId: string, kind: 'approve' | 'askChanges' | 'reject') {
  await claimRun(registry, actor, { runId });
  clock.now = new Date(clock.now.getTime() + 60_000);
  const reasons = kind === 'approve' ? [] : REASONS;
  return decideReview(registry, actor, { runId, revisionNumber: 1, kind, reasons });
}

describe('an approval that needs a second one', () => {
  it('leaves the run waiting, tells nobody who gave it, and the second one decides', async () => {
    const { runId, runNumber } = await waiting();
    expect(await decide(ada, runId, 'approve')).toBe('approveFirst');
    expect(await stateOf(runId)).toMatchObject({ status: 'submitted', firstApprovalById: ada.accountId });
    expect(await prisma.countedRun.count({ where: { runId } })).toBe(0);
    expect(await prisma.notification.count({ where: { runId } })).toBe(0);

    const seen = await readReview(registry, pelle, runNumber);
    expect(seen.review).toEqual({ kind: 'free' });
    expect(seen.run.awaitsSecond).toBe(true);
    expect(JSON.stringify(seen.run)).not.toContain('Ada Quill');
    const row = (await readQueue(registry, pelle, { waits: 'second' })).rows.find(
      (one) => one.number === runNumber,
    );
    expect(row).toMatchObject({ awaitsSecond: true, isReviewable: true });

    // the first one is done with it
    await expect(claimRun(registry, ada, { runId })).rejects.toThrow(
      'You have decided on this revision already',
    );
    expect((await readReview(registry, ada, runNumber)).review.kind).toBe('notYours');
    expect(await nextReview(registry, ada, crypto.randomUUID())).toBeUndefined();
    expect(await nextReview(registry, pelle, crypto.randomUUID())).toBe(runNumber);

    expect(await decide(pelle, runId, 'approve')).toBe('approve');
    expect(await stateOf(runId)).toMatchObject({ status: 'approved', firstApprovalById: null });
    expect(await prisma.countedRun.count({ where: { runId } })).toBe(1);
    const after = await readReview(registry, ada, runNumber);
    expect(after.run.steps.map(({ label, by }) => [label, by.displayName])).toEqual([
      ['Submitted', 'Mira Holm'],
      ['Approved, the first of two', 'Ada Quill'],
      ['Approved', 'Pelle Strand'],
    ]);
    const decisions = await prisma.decision.findMany({
      where: { revision: { runId } },
      orderBy: { decidedAt: 'asc' },
    });
    expect(decisions.map(({ secondFor }) => secondFor)).toEqual([['firstRuns'], []]);
  });

  it('is over when the second one decides otherwise, or the tester takes the run back', async () => {
    const rejected = await waiting();
    await decide(ada, rejected.runId, 'approve');
    expect(await decide(pelle, rejected.runId, 'reject')).toBe('reject');
    expect(await stateOf(rejected.runId)).toMatchObject({ status: 'rejected', firstApprovalById: null });

    const withdrawn = await waiting();
    await decide(ada, withdrawn.runId, 'approve');
    await withdrawRun(registry, tester, { runId: withdrawn.runId });
    expect(await stateOf(withdrawn.runId)).toMatchObject({ status: 'draft', firstApprovalById: null });
  });

  it('cannot be given twice by asking twice at once', async () => {
    const { runId } = await waiting();
    await claimRun(registry, ada, { runId });
    const decision = { runId, revisionNumber: 1, kind: 'approve' };
    const asked = await Promise.allSettled([
      decideReview(registry, ada, decision),
      decideReview(registry, ada, decision),
    ]);
    expect(asked.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    expect(await prisma.decision.count({ where: { revision: { runId } } })).toBe(1);
    expect(await stateOf(runId)).toMatchObject({ status: 'submitted' });
  });

  it('is not asked for where nobody else may give it, and the page says so', async () => {
    const { runId, runNumber } = await waiting();
    await declareInterest(registry, pelle, { kind: 'account', name: 'mira holm' });
    await declareInterest(registry, tove, { kind: 'model', name: 'Skerry' });
    expect((await readReview(registry, ada, runNumber)).second).toEqual({
      reasons: ['firstRuns'],
      others: 0,
    });
    expect(await decide(ada, runId, 'approve')).toBe('approve');
    for (const actor of [pelle, tove]) {
      const [interest] = await readInterests(registry, actor);
      await endInterest(registry, actor, { id: interest?.id });
      expect(await readInterests(registry, actor)).toEqual([]);
    }
  });
});

describe('a declared interest', () => {
  it.each([
    ['account', 'Mira Holm'],
    ['maker', 'tarn works'],
    ['model', '/models/skerry'],
  ])('in the %s keeps its reviewer from claiming and deciding', async (kind, named) => {
    const { runId, runNumber } = await waiting();
    const slug = (await prisma.vehicleModel.findUniqueOrThrow({ where: { id: vehicle.modelId } })).slug;
    await claimRun(registry, tove, { runId });
    await declareInterest(registry, tove, { kind, name: kind === 'model' ? `/models/${slug}` : named });
    const decision = { runId, revisionNumber: 1, kind: 'reject', reasons: REASONS };
    await expect(decideReview(registry, tove, decision)).rejects.toThrow('You have declared an interest');
    const row = (await readQueue(registry, tove, {})).rows.find((one) => one.number === runNumber);
    expect(row).toMatchObject({ isReviewable: false, keptOut: 'interest' });
    await prisma.reviewClaim.updateMany({ where: { runId }, data: { releasedAt: clock.now } });
    await expect(claimRun(registry, tove, { runId })).rejects.toThrow(Conflict);
    const [interest] = await readInterests(registry, tove);
    await expect(endInterest(registry, ada, { id: interest?.id })).rejects.toThrow(Conflict);
    await endInterest(registry, tove, { id: interest?.id });
    await claimRun(registry, tove, { runId });
    await withdrawRun(registry, tester, { runId });
  });

  it('is declared once, in something that is here, by those who decide', async () => {
    await declareInterest(registry, ada, { kind: 'maker', name: 'Tarn Works' });
    await expect(declareInterest(registry, ada, { kind: 'maker', name: 'Tarn Works' })).rejects.toThrow(
      Conflict,
    );
    await expect(declareInterest(registry, ada, { kind: 'model', name: 'Nowhere' })).rejects.toThrow(
      InvalidInput,
    );
    await expect(declareInterest(registry, tester, { kind: 'maker', name: 'Tarn Works' })).rejects.toThrow(
      NotAllowed,
    );
    const [interest] = await readInterests(registry, ada);
    await endInterest(registry, ada, { id: interest?.id });
  });
});

describe('an appeal', () => {
  const words = 'The gust on the photo is of the day before, see its date.';

  it('puts a rejected run before another reviewer, once', async () => {
    const { runId, runNumber } = await waiting();
    await decide(ada, runId, 'reject');
    await expect(appealRun(registry, ada, { runId, words })).rejects.toThrow(NotAllowed);
    await expect(appealRun(registry, tester, { runId, words: 'No.' })).rejects.toThrow(InvalidInput);
    await expect(appealRun(registry, tester, { runId, words: 'x'.repeat(2001) })).rejects.toThrow(
      InvalidInput,
    );
    await appealRun(registry, tester, { runId, words });
    expect(await stateOf(runId)).toMatchObject({ status: 'submitted', round: 2 });
    await expect(claimRun(registry, ada, { runId })).rejects.toThrow('another reviewer decides on it now');
    const seen = await readReview(registry, pelle, runNumber);
    expect(seen.run.revisions[0]?.appeal?.words).toBe(words);
    expect(seen.run.revisions[0]?.decisions[0]?.by.displayName).toBe('Ada Quill');
    await decide(pelle, runId, 'reject');
    await expect(appealRun(registry, tester, { runId, words })).rejects.toThrow('appealed for once');
    expect(await stateOf(runId)).toMatchObject({ status: 'rejected', round: 2 });
    expect(await prisma.auditEntry.count({ where: { subjectId: runId, action: 'run.appeal' } })).toBe(1);
  });

  it('sent twice at once is one, and beside an approval nothing', async () => {
    const { runId } = await waiting();
    await decide(ada, runId, 'reject');
    const sent = await Promise.allSettled([
      appealRun(registry, tester, { runId, words }),
      appealRun(registry, tester, { runId, words }),
    ]);
    expect(sent.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    expect(await stateOf(runId)).toMatchObject({ status: 'submitted', round: 2 });
    await claimRun(registry, pelle, { runId });
    const both = await Promise.allSettled([
      decideReview(registry, pelle, { runId, revisionNumber: 1, kind: 'approve' }),
      appealRun(registry, tester, { runId, words }),
    ]);
    expect(both[1].status).toBe('rejected');
    expect(both[0].status).toBe('fulfilled');
  });
});
