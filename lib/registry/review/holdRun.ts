import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { lockRuns, removeCounted } from '@/lib/store/countedRuns';
import type { Queryable } from '@/lib/store/database';
import { closeHold, type HoldKind, insertHold } from '@/lib/store/holds';
import { insertNotification } from '@/lib/store/notices';
import { runState } from '@/lib/store/runs';
import { countRun } from '../counted/countRun';
import { enqueueConclusions } from '../rankings/enqueueConclusions';
import type { Registry } from '../registry';

const reason = z
  .string()
  .trim()
  .min(10, 'The reason is too short. | It stays beside the run for every reader. | Say what is looked into.')
  .max(2000);

export const holdRunSchema = z.object({ runId: z.uuid(), reason });

/** A run as the two below need it. */
export type HeldRun = NonNullable<Awaited<ReturnType<typeof runState>>>;

/** Takes a run out of what counts until the hold is lifted, whatever its state. A steward's act; it says why. */
export async function holdRun(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  const { runId, reason } = parseInput(holdRunSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'holdRun', run.testerId, worldKey(run.world));
  await registry.db.$transaction(async (tx) => {
    const by = { kind: 'looking' as const, reason, placedById: actor.accountId };
    if (!(await placeHold(tx, run, by, registry.now()))) throw new Conflict('This run is held already.');
  });
}

/** The run counts again as it did before, if it is approved. */
export async function liftHold(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  const { runId, reason } = parseInput(holdRunSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'holdRun', run.testerId, worldKey(run.world));
  await registry.db.$transaction(async (tx) => {
    if (!(await endHold(tx, run, { reason, by: actor.accountId }, registry.now())))
      throw new Conflict('No hold on this run is open.');
  });
}

/** In the transaction of whatever asks for it: false where the run is held already. */
export async function placeHold(
  tx: Queryable,
  run: HeldRun,
  hold: { kind: HoldKind; reason: string; placedById: string | null },
  at: Date,
): Promise<boolean> {
  await lockRuns(tx, [run.id]);
  if (!(await insertHold(tx, { ...hold, runId: run.id, placedAt: at }))) return false;
  if (await removeCounted(tx, run.id)) await enqueueConclusions(tx, run, at);
  await told(tx, run, at, {
    by: hold.placedById,
    action: 'run.hold',
    details: { kind: hold.kind, reason: hold.reason },
    text: `Run ${run.number} is held and does not count: ${hold.reason}`,
  });
  return true;
}

/** In the transaction of whatever asks for it: false where no hold is open, of the kind if told. */
export async function endHold(
  tx: Queryable,
  run: HeldRun,
  lift: { reason: string; by: string | null; kind?: HoldKind },
  at: Date,
): Promise<boolean> {
  await lockRuns(tx, [run.id]);
  const lifted = { liftedAt: at, liftedById: lift.by, liftReason: lift.reason };
  if (!(await closeHold(tx, run.id, lifted, lift.kind))) return false;
  const { status } = (await runState(tx, run.id)) ?? run;
  if (status === 'approved') {
    await countRun(tx, run, at);
    await enqueueConclusions(tx, run, at);
  }
  await told(tx, run, at, {
    by: lift.by,
    action: 'run.liftHold',
    details: { reason: lift.reason },
    text: `The hold on run ${run.number} is lifted: ${lift.reason}`,
  });
  return true;
}

async function told(
  tx: Queryable,
  run: HeldRun,
  at: Date,
  what: { by: string | null; action: string; details: Record<string, string>; text: string },
): Promise<void> {
  await appendAudit(tx, {
    at,
    actorId: what.by ?? undefined,
    action: what.action,
    subjectKind: 'run',
    subjectId: run.id,
    details: what.details,
  });
  await insertNotification(tx, {
    accountId: run.testerId,
    runId: run.id,
    kind: what.action,
    text: what.text,
    href: `/runs/${run.number}`,
    createdAt: at,
  });
}
