import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { claimRun, releaseRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { withdrawRun } from '@/lib/registry/runs/retractRun';
import { Conflict, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
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
