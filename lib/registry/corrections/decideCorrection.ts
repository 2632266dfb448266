import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { refusalOf } from '@/lib/access/permissions';
import { Conflict, NotAllowed, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { hasInterestIn, hasRunOf, hasStudyOf } from '@/lib/store/correctionRuns';
import { correctionById, moveCorrection, type StoredCorrection } from '@/lib/store/corrections';
import type { Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import { insertNotification } from '@/lib/store/notices';
import type { Registry } from '../registry';
import { CorrectionOutdated, makeCorrection } from './makeCorrection';
import { CORRECT_JOB } from './propose';

export const decideCorrectionSchema = z.object({
  correctionId: z.uuid(),
  /** The computation that the reviewer read. */
  computation: z.int32().min(0),
  kind: z.enum(['approve', 'reject'], {
    error: 'No decision chosen. | The correction waits for one. | Choose approve or reject.',
  }),
  reason: z
    .string()
    .trim()
    .min(
      10,
      'The reason is too short. | Everybody whose runs it touches reads it. | Say what you checked, or what is wrong.',
    )
    .max(2000, 'The reason is too long. | It stands beside every run. | Use at most 2000 characters.'),
});

/**
 * A reviewer’s one decision on a correction with all of its runs. Nobody decides on what they proposed or where a run of
 * theirs is among them. Approved, everything changes in one transaction; rejected, nothing does. Where something changed
 * since it was computed, it is computed anew and has to be read again. There is no way back but another correction.
 */
export async function decideCorrection(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { correctionId, computation, kind, reason } = parseInput(decideCorrectionSchema, input);
  const correction = await correctionById(registry.db, correctionId);
  if (correction === null) throw new NotFound('This correction does not exist.');
  authorise(actor, 'decideCorrection', correction.proposedById, worldKey(correction.world));
  if (await hasRunOf(registry.db, correctionId, actor.accountId))
    throw new NotAllowed(refusalOf('decideCorrection'), true, {
      accountId: actor.accountId,
      act: 'decideCorrection',
    });
  if (await hasInterestIn(registry.db, correctionId, actor.accountId))
    throw new Conflict(
      'You have declared an interest in what it is about: another reviewer decides on this correction.',
    );
  if (await hasStudyOf(registry.db, correctionId, actor.accountId))
    throw new Conflict(
      'You run or drive in a study that a run of it is of: another reviewer decides on this correction.',
    );
  if (correction.state !== 'waiting' || correction.computation !== computation) throw notWaiting(correction);
  if (kind === 'reject') return reject(registry, correction, actor, reason);
  try {
    await makeCorrection(registry, correctionId, reason, { reviewerId: actor.accountId, computation });
  } catch (error) {
    if (error instanceof CorrectionOutdated) await computeAnew(registry, correction);
    throw error;
  }
}

async function reject(
  registry: Registry,
  { id, number, computation, proposedById }: StoredCorrection,
  actor: Actor,
  reason: string,
): Promise<void> {
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const decided = {
      state: 'rejected' as const,
      decidedAt: at,
      decidedById: actor.accountId,
      decision: reason,
    };
    if (!(await moveCorrection(tx, id, ['waiting'], decided, computation))) throw notWaiting();
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'correction.reject',
      subjectKind: 'correction',
      subjectId: id,
      details: { reason },
    });
    await insertNotification(tx, {
      accountId: proposedById,
      runId: null,
      kind: 'correction.reject',
      text: `Correction ${number} was rejected, so nothing has changed: ${reason}`,
      href: `/corrections/${number}`,
      createdAt: at,
    });
  });
}

/** Asks for the computing once more; what was read meanwhile can no longer be decided on. */
async function computeAnew(registry: Registry, { id, computation }: StoredCorrection): Promise<void> {
  await registry.db.$transaction(async (tx) => {
    const anew = { state: 'computing' as const, fingerprint: null, fault: null };
    if (await moveCorrection(tx, id, ['waiting'], anew, computation))
      await enqueueJob(tx, CORRECT_JOB, id, registry.now());
  });
}

/** Takes an open correction back: nothing changes. */
export async function withdrawCorrection(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { correctionId } = parseInput(z.object({ correctionId: z.uuid() }), input);
  const correction = await correctionById(registry.db, correctionId);
  if (correction === null) throw new NotFound('This correction does not exist.');
  authorise(actor, 'withdrawCorrection', correction.proposedById, worldKey(correction.world));
  await registry.db.$transaction((tx) => takeBack(tx, correction.id, actor.accountId, registry.now()));
}

async function takeBack(tx: Queryable, id: string, byId: string, at: Date): Promise<void> {
  const taken = { state: 'withdrawn' as const, decidedAt: at, decidedById: byId };
  if (!(await moveCorrection(tx, id, ['computing', 'waiting'], taken))) throw notWaiting();
  await appendAudit(tx, {
    at,
    actorId: byId,
    action: 'correction.withdraw',
    subjectKind: 'correction',
    subjectId: id,
  });
}

function notWaiting(correction?: StoredCorrection): Conflict {
  return new Conflict(
    correction?.state === 'computing' || correction?.state === 'waiting'
      ? 'This correction is being computed anew, or was since you read it. Read it again before you decide.'
      : 'This correction is decided already, or was taken back.',
  );
}
