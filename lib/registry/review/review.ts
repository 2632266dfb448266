import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { isApprovable } from '@/lib/protocol/evaluate';
import { type ReasonChoices, requiredReasons } from '@/lib/protocol/reasons';
import { type RevisionChanges, revisionChanges } from '@/lib/protocol/revisionChanges';
import { NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf, worldKey } from '@/lib/run/world';
import { runDossier } from '@/lib/store/runDossier';
import { nextForReview } from '@/lib/store/runLists';
import { runState } from '@/lib/store/runs';
import type { Registry } from '../registry';
import { composeRun, isVisible, type RunView } from '../runs/run';
import { type BlindReadings, blindReadings } from './blindReadings';
import { ineligibility, ineligibleWords } from './eligible';
import { type SecondApproval, secondApprovalOf } from './secondApproval';
import { type SharedPicture, sharedPictures } from './sharedPictures';
import { type TesterTies, testerTies } from './testerTies';

/** Whether this reviewer can decide now, and if not, why not. */
export type ReviewStanding =
  | { kind: 'mine'; since: string }
  | { kind: 'free' }
  | { kind: 'taken'; by: string; since: string; mayRelease: boolean }
  | { kind: 'own' }
  /** They keep out of it, or have decided on this revision before. */
  | { kind: 'notYours'; why: string }
  | { kind: 'decided' };

export interface ReviewView {
  run: RunView;
  review: ReviewStanding;
  reasons: ReasonChoices;
  isApprovable: boolean;
  changes: RevisionChanges | null;
  /** Its pictures beside those of other runs that are the same or look alike. */
  pictures: SharedPicture[];
  nextNumber: number | null;
  /** The readings on photos, as far as this reviewer sees them by now. */
  blind: BlindReadings;
  /** Who sent it, and what ties their runs to others; null for an own run. */
  ties: TesterTies | null;
  /** What an approval by this reviewer would need beside it; null where they cannot decide. */
  second: SecondApproval | null;
}

/** A submitted run as its reviewer needs it: the dossier, what changed, what may be said against it. */
export async function readReview(
  registry: Registry,
  actor: Actor | undefined,
  number: number,
  logFrom?: string,
): Promise<ReviewView> {
  authorise(actor, 'readQueue');
  const dossier = await runDossier(registry.db, number);
  const isSeen = dossier !== null && isVisible(actor, dossier);
  const run = isSeen ? await composeRun(registry, actor, dossier, { logFrom }) : undefined;
  if (dossier === null || run === undefined) throw new NotFound('This run does not exist.');
  const [before, after] = dossier.revisions.slice(-2);
  const findings = [...run.findings.notable, ...run.findings.notChecked, ...run.findings.passed];
  const next = await nextForReview(registry.db, reviewerOf(actor), dossier.id);
  const review = await reviewStanding(registry, actor, dossier);
  const latest = dossier.revisions.at(-1);
  const isBlind = review.kind === 'mine' || review.kind === 'free';
  const blind = await blindReadings(registry, actor.accountId, { id: latest?.id ?? '', isBlind }, run.photos);
  return {
    // what is hidden from this reviewer is not in what the page is made from
    run: { ...run, readings: run.readings.filter(({ quantity }) => !blind.hidden.has(quantity)) },
    blind,
    ties: review.kind === 'own' ? null : await testerTies(registry, dossier.testerId),
    review,
    second:
      review.kind === 'mine' || review.kind === 'free'
        ? await secondApprovalOf(registry, actor.accountId, dossier.id)
        : null,
    reasons: requiredReasons(findings),
    isApprovable: isApprovable(findings),
    changes: before && after ? withoutHidden(revisionChanges(before, after), blind) : null,
    pictures: await sharedPictures(registry, actor, run.photos),
    nextNumber: next?.number ?? null,
  };
}

/** What a reviewer is to read off a photo is not told by what changed about it. */
function withoutHidden(changes: RevisionChanges, { hidden }: BlindReadings): RevisionChanges {
  return { ...changes, entries: changes.entries.filter(({ key }) => !hidden.has(key)) };
}

async function reviewStanding(
  registry: Registry,
  actor: Actor,
  run: NonNullable<Awaited<ReturnType<typeof runDossier>>>,
): Promise<ReviewStanding> {
  if (run.status !== 'submitted') return { kind: 'decided' };
  if (!may(actor, 'reviewRun', run.testerId, worldKey(run.world))) return { kind: 'own' };
  const state = await runState(registry.db, run.id);
  const why = state ? await ineligibility(registry.db, actor.accountId, state) : undefined;
  if (why) return { kind: 'notYours', why: ineligibleWords(why) };
  const claim = run.claims.find((candidate) => candidate.releasedAt === null);
  if (claim === undefined) return { kind: 'free' };
  const since = claim.claimedAt.toISOString();
  return claim.reviewerId === actor.accountId
    ? { kind: 'mine', since }
    : { kind: 'taken', by: claim.reviewer.displayName, since, mayRelease: actor.role === 'steward' };
}

/** Where a reviewer goes after a decision: the next run in the queue, if any is left for them. */
export async function nextReview(
  registry: Registry,
  actor: Actor | undefined,
  decidedRunId: string,
): Promise<number | undefined> {
  authorise(actor, 'readQueue');
  return (await nextForReview(registry.db, reviewerOf(actor), decidedRunId))?.number;
}

function reviewerOf(actor: Actor) {
  return { reviewerId: actor.accountId, onlyWorld: onlyWorldOf(actor) };
}
