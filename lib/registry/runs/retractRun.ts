import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { statusesAllowing } from '@/lib/run/runStatus';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { removeCounted } from '@/lib/store/countedRuns';
import type { Queryable } from '@/lib/store/database';
import { insertNotification } from '@/lib/store/notices';
import { releaseOpenClaim } from '@/lib/store/reviews';
import { insertRetraction, moveRun, runState } from '@/lib/store/runs';
import { enqueueConclusions } from '../rankings/enqueueConclusions';
import type { Registry } from '../registry';
import { tellStudyOwners } from '../studies/tellOfStudy';

export const retractRunSchema = z.object({
  runId: z.uuid(),
  reason: z
    .string()
    .trim()
    .min(10, 'The reason is too short. | It stays beside the run for every reader. | Say what was wrong.')
    .max(2000),
});

/** Takes an approved run out of the rankings. It stays readable, with the reason. */
export async function retractRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { runId, reason } = parseInput(retractRunSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'retractRun', run.testerId, worldKey(run.world));
  await registry.db.$transaction(async (tx) => {
    if (!(await retractInside(tx, run, { reason, byId: actor.accountId }, registry.now())))
      throw new Conflict('Only an approved run can be retracted.');
    await tellStudyOwners(tx, [run.id], 'retract', { accountId: actor.accountId, at: registry.now() });
  });
}

/**
 * In the transaction of whatever asks for it: false where the run is not approved. Another's tester is told; owners of
 * studies are by whoever asks, once for all runs.
 */
export async function retractInside(
  tx: Queryable,
  run: NonNullable<Awaited<ReturnType<typeof runState>>>,
  { reason, byId }: { reason: string; byId: string },
  at: Date,
): Promise<boolean> {
  if (!(await moveRun(tx, run.id, statusesAllowing('retract'), { status: 'retracted' }))) return false;
  await removeCounted(tx, run.id);
  await insertRetraction(tx, { runId: run.id, byId, reason, retractedAt: at });
  await appendAudit(tx, {
    at,
    actorId: byId,
    action: 'run.retract',
    subjectKind: 'run',
    subjectId: run.id,
    details: { reason },
  });
  if (byId !== run.testerId)
    await insertNotification(tx, {
      accountId: run.testerId,
      runId: run.id,
      kind: 'run.retract',
      text: `Run ${run.number} was retracted by a steward: ${reason}`,
      href: `/runs/${run.number}`,
      createdAt: at,
    });
  await enqueueConclusions(tx, run, at);
  return true;
}

/** Takes a submitted run back to a draft, as long as no reviewer has decided on it. */
export async function withdrawRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { runId } = parseInput(z.object({ runId: z.uuid() }), input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    if (!(await moveRun(tx, runId, statusesAllowing('withdraw'), { status: 'draft' }))) {
      throw new Conflict('Only a run that waits for review can be withdrawn.');
    }
    await releaseOpenClaim(tx, runId, undefined, at);
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'run.withdraw',
      subjectKind: 'run',
      subjectId: runId,
    });
  });
}
