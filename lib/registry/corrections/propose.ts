import type { Change } from '@/lib/reduction/corrections/change';
import { changesSomething, firstDayTouched } from '@/lib/reduction/corrections/change';
import { Conflict } from '@/lib/run/errors';
import type { WorldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { applyChange } from '@/lib/store/correctedSubjects';
import { hasCandidates } from '@/lib/store/correctionRuns';
import { insertCorrection, openCorrectionOf } from '@/lib/store/corrections';
import type { Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import type { Prisma } from '@/prisma/generated/client';

/** Jobs of this kind work out what a correction makes of its runs; their key is its id. */
export const CORRECT_JOB = 'correct';

export interface Proposal {
  subjectId: string;
  world: WorldKey;
  change: Change;
  reason: string;
  byId: string;
  /** The entry of the audit log where the change is made at once. */
  act: { action: string; subjectKind: string; details: Prisma.InputJsonObject };
}

/** Made at once, or waiting under a number; nothing where nothing would be another. */
export type Proposed = { kind: 'nothing' } | { kind: 'made' } | { kind: 'proposed'; number: number };

/**
 * Changes a thing that the caller has locked: at once where no run that counts or waits was computed from it, else as a
 * correction that changes nothing until a reviewer approves it with all of its runs.
 */
export async function propose(tx: Queryable, proposal: Proposal, at: Date): Promise<Proposed> {
  const { subjectId, world, change, reason, byId, act } = proposal;
  if (!changesSomething(change)) return { kind: 'nothing' };
  await refuseWhileOpen(tx, subjectId);
  const subject = { kind: change.kind, subjectId };
  const fromDay = change.kind === 'calibrations' ? firstDayTouched(change.changes) : undefined;
  if (!(await hasCandidates(tx, subject, fromDay))) {
    if (!(await applyChange(tx, subjectId, change, at))) throw overtaken();
    await appendAudit(tx, { at, actorId: byId, subjectId, ...act });
    return { kind: 'made' };
  }
  const { id, number } = await insertCorrection(tx, {
    world,
    change,
    subjectId,
    reason,
    proposedById: byId,
    proposedAt: at,
  });
  await enqueueJob(tx, CORRECT_JOB, id, at);
  await appendAudit(tx, {
    at,
    actorId: byId,
    action: 'correction.propose',
    subjectKind: 'correction',
    subjectId: id,
    details: { ...act.details, what: change.kind },
  });
  return { kind: 'proposed', number };
}

/** What a correction found stays as it is while it is open. */
export async function refuseWhileOpen(tx: Queryable, subjectId: string): Promise<void> {
  const open = await openCorrectionOf(tx, subjectId);
  if (open === null) return;
  throw new Conflict(
    `Correction ${open.number} of this is not decided yet. Wait for the decision, or take it back first.`,
  );
}

function overtaken(): Conflict {
  return new Conflict('It was changed a moment ago. Reload to see how it stands.');
}
