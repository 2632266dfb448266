import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readModeration } from '@/lib/registry/review/moderation';
import { decideReReview, readOpenReReviews, readReReview } from '@/lib/registry/review/reReview';
import { InvalidInput, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '../../helpers/database';
import {
  approve,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  submitted,
  vehicleOf,
} from '../../helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let ada: Actor;
let tove: Actor;
let run: SubmittedRunRef;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  ada = await person(registry, 'Ada Quill', 'reviewer');
  await person(registry, 'Pelle Strand', 'reviewer');
  const { carId, baselineId } = await vehicleOf(registry, tester);
  run = await submitted(registry, tester, {
    carId,
    setupId: baselineId,
    loopId: await loopOf(registry, tester),
  });
  await approve(registry, ada, run);
  tove = await person(registry, 'Tove Arn', 'reviewer');
  // the lot falls on the decision that counted, whatever its id is
  await prisma.reReview.deleteMany();
  const decision = await prisma.decision.findFirstOrThrow({ where: { secondFor: { isEmpty: true } } });
  await prisma.reReview.create({ data: { decisionId: decision.id, drawnAt: registry.now() } });
}, 120_000);

describe('a decision that was drawn', () => {
  it('is read again by somebody who neither sent the run nor decided on it, without what was decided', async () => {
    expect(await readOpenReReviews(registry, tove)).toMatchObject([{ runNumber: run.runNumber }]);
    expect(await readOpenReReviews(registry, ada)).toEqual([]);
    await expect(readReReview(registry, ada, run.runNumber)).rejects.toThrow(NotFound);
    const { run: seen } = await readReReview(registry, tove, run.runNumber);
    expect(seen.status).toBe('submitted');
    expect(JSON.stringify([seen.steps, seen.revisions, seen.audit])).not.toMatch(
      /Ada Quill|Pelle Strand|pprove/,
    );
  });

  it('is compared once, with a reason where it is no approval, and moves nothing', async () => {
    const again = { runId: run.runId, kind: 'reject' };
    await expect(decideReReview(registry, tove, again)).rejects.toThrow(InvalidInput);
    const answer = { ...again, note: 'The odometer on the photo is another one.' };
    const both = await Promise.allSettled([
      decideReReview(registry, tove, answer),
      decideReReview(registry, tove, answer),
    ]);
    expect(both.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    expect(await prisma.run.findUniqueOrThrow({ where: { id: run.runId } })).toMatchObject({
      status: 'approved',
    });
    expect(await prisma.auditEntry.count({ where: { action: 'review.readAgain' } })).toBe(1);
    expect(await readOpenReReviews(registry, tove)).toEqual([]);
  });

  it('stands in the published table, and one pair is too few for a number', async () => {
    const [record] = await readModeration(registry);
    expect(record).toMatchObject({
      world: 'record',
      pairs: 1,
      kappa: null,
      counts: { drawn: 1, seconded: 1 },
    });
    expect(record?.table).toEqual([
      [0, 0, 1],
      [0, 0, 0],
      [0, 0, 0],
    ]);
  });
});
