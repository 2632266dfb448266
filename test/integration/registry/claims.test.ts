import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { claimRun, releaseRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { myRuns } from '@/lib/registry/runs/myRuns';
import { withdrawRun } from '@/lib/registry/runs/retractRun';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { Conflict, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { readForm } from '@/lib/run/stored';
import { freshDatabase } from '../../helpers/database';
import { loopOf, person, registryOn, submitted, vehicleOf } from '../../helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let reviewer: Actor;
let second: Actor;
let form: Record<string, string>;
let day = 10;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  second = await person(registry, 'Pelle Strand', 'reviewer');
  const vehicle = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  form = { carId: vehicle.carId, setupId: vehicle.baselineId, loopId };
}, 120_000);

/** A run that waits, of a day of its own. */
async function waiting(): Promise<string> {
  day += 1;
  const { runId } = await submitted(registry, tester, { ...form, startedAtLocal: `2026-06-${day}T09:00` });
  return runId;
}

const holder = async (runId: string) =>
  (await prisma.reviewClaim.findFirst({ where: { runId, releasedAt: null } }))?.reviewerId;
const statusOf = async (runId: string) =>
  (await prisma.run.findUniqueOrThrow({ where: { id: runId } })).status;
const approve = (actor: Actor, runId: string) =>
  decideReview(registry, actor, { runId, revisionNumber: 1, kind: 'approve' });

describe('a decision', () => {
  it('is taken by whoever holds the run, and by nobody where nobody does', async () => {
    const runId = await waiting();
    await expect(approve(reviewer, runId)).rejects.toThrow('Claim the run before you decide.');
    await claimRun(registry, second, { runId });
    await expect(approve(reviewer, runId)).rejects.toThrow('Pelle Strand has claimed this run.');
    expect(await statusOf(runId)).toBe('submitted');
    await approve(second, runId);
    expect(await holder(runId)).toBeUndefined();
    // a first run of its account: the other reviewer reads it as well
    expect(await statusOf(runId)).toBe('submitted');
    await claimRun(registry, reviewer, { runId });
    await approve(reviewer, runId);
    expect(await statusOf(runId)).toBe('approved');
    expect(await holder(runId)).toBeUndefined();
    const notice = await prisma.notification.findFirstOrThrow({ where: { runId } });
    expect(notice).toMatchObject({ accountId: tester.accountId, kind: 'review.approve' });
  });
});

describe('a claim', () => {
  it('is given back by its holder or a steward, and by no other reviewer', async () => {
    const runId = await waiting();
    await claimRun(registry, reviewer, { runId });
    await expect(releaseRun(registry, second, { runId })).rejects.toThrow(Conflict);
    await expect(releaseRun(registry, tester, { runId })).rejects.toThrow(NotAllowed);
    expect(await holder(runId)).toBe(reviewer.accountId);
    await releaseRun(registry, reviewer, { runId });
    expect(await holder(runId)).toBeUndefined();
    await claimRun(registry, second, { runId });
    const steward = await person(registry, 'Runa Vale', 'steward');
    await releaseRun(registry, steward, { runId });
    expect(await holder(runId)).toBeUndefined();
  });

  it('asked for again by its holder is one claim', async () => {
    const runId = await waiting();
    await claimRun(registry, reviewer, { runId });
    await claimRun(registry, reviewer, { runId });
    expect(await prisma.reviewClaim.count({ where: { runId } })).toBe(1);
  });

  it('ends when the tester takes the run back', async () => {
    const runId = await waiting();
    await claimRun(registry, reviewer, { runId });
    await withdrawRun(registry, tester, { runId });
    expect(await holder(runId)).toBeUndefined();
    await expect(claimRun(registry, second, { runId })).rejects.toThrow(Conflict);
    expect(await prisma.auditEntry.count({ where: { subjectId: runId, action: 'run.withdraw' } })).toBe(1);
  });
});

describe('a run that comes back', () => {
  const send = async (runId: string, changes: Record<string, string> = {}) => {
    const { draft, draftVersion } = await prisma.run.findUniqueOrThrow({ where: { id: runId } });
    const posted = { ...readForm(draft), ...changes };
    return (await submitRun(registry, tester, { runId, draftVersion, form: posted })).revisionNumber;
  };

  it('withdrawn and sent again as it was is the same revision; with a change it is the next', async () => {
    const runId = await waiting();
    await withdrawRun(registry, tester, { runId });
    expect(await send(runId)).toBe(1);
    expect(await statusOf(runId)).toBe('submitted');
    expect(await prisma.runRevision.count({ where: { runId } })).toBe(1);
    await withdrawRun(registry, tester, { runId });
    expect(await send(runId, { notes: 'Gusts at the bridge.' })).toBe(2);
  });

  it('from a reviewer says why in the notice and in the list, and is sent again as the next revision', async () => {
    const runId = await waiting();
    await claimRun(registry, second, { runId });
    const { ruleId } = await prisma.finding.findFirstOrThrow({ where: { revision: { runId } } });
    await decideReview(registry, second, {
      runId,
      revisionNumber: 1,
      kind: 'askChanges',
      reasons: [{ ruleId, text: 'The photo shows 43 %.' }],
    });
    const notice = await prisma.notification.findFirstOrThrow({ where: { runId } });
    expect(notice.text).toContain('“The photo shows 43 %.”');
    const { pages } = await myRuns(registry, tester, { statuses: ['changesAsked'] });
    expect(pages[0]?.page.rows[0]).toMatchObject({ runId, note: 'The photo shows 43 %.' });
    expect(await send(runId)).toBe(2);
  });
});
