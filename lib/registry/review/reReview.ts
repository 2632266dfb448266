import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf, worldKey } from '@/lib/run/world';
import { DECISION_KINDS } from '@/lib/stats/reReview';
import { appendAudit } from '@/lib/store/audit';
import { closeReReview, openReReviews } from '@/lib/store/reReviews';
import { runDossier } from '@/lib/store/runDossier';
import { runState } from '@/lib/store/runs';
import type { Registry } from '../registry';
import { composeRun, type RunView } from '../runs/run';
import { ineligibility, requireEligible } from './eligible';

/** A run whose decision was drawn to be read again. */
export interface OpenReReview {
  runNumber: number;
  drawnAt: string;
}

type Waiting = Awaited<ReturnType<typeof openReReviews>>;

/** Of a revision that was sent anew since, nothing is to be read again. */
function current(rows: Waiting): Waiting {
  return rows.filter(({ decision: { revision } }) => revision.run.revisions[0]?.number === revision.number);
}

/** What this reviewer may read again, the oldest first. */
export async function readOpenReReviews(
  registry: Registry,
  actor: Actor | undefined,
): Promise<OpenReReview[]> {
  authorise(actor, 'readQueue');
  const rows = await openReReviews(registry.db, {
    reviewerId: actor.accountId,
    onlyWorld: onlyWorldOf(actor),
  });
  return current(rows)
    .filter(({ decision }) => decision.revision.run.status !== 'submitted')
    .map(({ drawnAt, decision }) => ({
      runNumber: decision.revision.run.number,
      drawnAt: drawnAt.toISOString(),
    }));
}

/** The run as it waited for its decision: neither what was decided nor what became of it is told. */
export async function readReReview(
  registry: Registry,
  actor: Actor | undefined,
  number: number,
): Promise<{ run: RunView }> {
  authorise(actor, 'readQueue');
  const dossier = await runDossier(registry.db, number);
  const state = dossier && (await runState(registry.db, dossier.id));
  if (dossier === null || state === null) throw notDrawn();
  authorise(actor, 'reviewRun', dossier.testerId, worldKey(dossier.world));
  if (await ineligibility(registry.db, actor.accountId, state)) throw notDrawn();
  await waitingOf(registry, actor, dossier.id);
  const undecided = {
    ...dossier,
    status: 'submitted' as const,
    firstApprovalById: null,
    claims: [],
    holds: [],
    retraction: null,
    revisions: dossier.revisions.map((revision, place) =>
      place === dossier.revisions.length - 1 ? { ...revision, decisions: [], appeal: null } : revision,
    ),
  };
  const run = await composeRun(registry, actor, undecided);
  if (run === undefined) throw notDrawn();
  return {
    run: { ...run, audit: { ...run.audit, rows: [], total: 0, next: undefined, previous: undefined } },
  };
}

const decideSchema = z
  .object({
    runId: z.uuid(),
    kind: z.enum(DECISION_KINDS, {
      error: 'Nothing is chosen. | It is compared with the first decision. | Choose what you would decide.',
    }),
    note: z.string().trim().max(2000).default(''),
  })
  .refine(({ kind, note }) => kind === 'approve' || note.length >= 10, {
    path: ['note'],
    error:
      'No reason is given. | Where two differ, a steward looks at both. | Say what you found, in a sentence.',
  });

/** What another reviewer would have decided. It is kept beside the first decision and moves nothing. */
export async function decideReReview(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { runId, kind, note } = parseInput(decideSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw notDrawn();
  authorise(actor, 'reviewRun', run.testerId, worldKey(run.world));
  await requireEligible(registry.db, actor.accountId, run);
  const { decisionId } = await waitingOf(registry, actor, runId);
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    if (!(await closeReReview(tx, decisionId, { reviewerId: actor.accountId, kind, note, decidedAt: at })))
      throw new Conflict('Another reviewer has read this run again a moment ago.');
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'review.readAgain',
      subjectKind: 'run',
      subjectId: runId,
      details: { kind },
    });
  });
}

async function waitingOf(registry: Registry, actor: Actor, runId: string) {
  const [drawn] = current(await openReReviews(registry.db, { reviewerId: actor.accountId, runId }));
  if (drawn === undefined) throw notDrawn();
  return drawn;
}

function notDrawn(): NotFound {
  return new NotFound('No decision on this run was drawn for you to read again.');
}
