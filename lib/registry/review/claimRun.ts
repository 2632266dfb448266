import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { isExclusionViolation } from '@/lib/store/database';
import { insertClaim, openClaim, releaseOpenClaim } from '@/lib/store/reviews';
import { runState } from '@/lib/store/runs';
import { lockRun } from '@/lib/store/traces';
import type { Registry } from '../registry';
import { requireEligible } from './eligible';

const runIdSchema = z.object({ runId: z.uuid() });

/** Takes a submitted run for review. The database holds that only one claim is open. */
export async function claimRun(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  const { runId } = parseInput(runIdSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'reviewRun', run.testerId, worldKey(run.world));
  if (run.status !== 'submitted') throw notWaiting();
  const mine = await openClaim(registry.db, runId);
  if (mine?.reviewerId === actor.accountId) return;
  await requireEligible(registry.db, actor.accountId, run);
  try {
    await registry.db.$transaction(async (tx) => {
      const at = registry.now();
      if (!(await lockRun(tx, runId, ['submitted']))) throw notWaiting();
      await insertClaim(tx, runId, actor.accountId, at);
      await appendAudit(tx, {
        at,
        actorId: actor.accountId,
        action: 'review.claim',
        subjectKind: 'run',
        subjectId: runId,
      });
    });
  } catch (error) {
    if (!isExclusionViolation(error)) throw error;
    throw new Conflict('Another reviewer has claimed this run.');
  }
}

/** Gives a claimed run back to the queue; a steward may release the claim of anyone. */
export async function releaseRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { runId } = parseInput(runIdSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'reviewRun', run.testerId, worldKey(run.world));
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const reviewerId = actor.role === 'steward' ? undefined : actor.accountId;
    if (!(await releaseOpenClaim(tx, runId, reviewerId, at))) {
      throw new Conflict('You hold no claim on this run.');
    }
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'review.release',
      subjectKind: 'run',
      subjectId: runId,
    });
  });
}

function notWaiting(): Conflict {
  return new Conflict('This run is not waiting for review any more.');
}
