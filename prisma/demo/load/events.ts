import type { DemoReview, DemoRevision, DemoRun, DemoWorld } from '../world/types';

/** One thing that somebody does, at its instant. */
export type DemoEvent = { at: number; run: DemoRun } & (
  | { kind: 'draft' }
  | { kind: 'submit'; revisionNumber: number; revision: DemoRevision }
  | { kind: 'claim'; review: DemoReview }
  | { kind: 'decide'; revisionNumber: number; revision: DemoRevision; review: DemoReview }
  | { kind: 'retract'; reason: string }
);

/** The life of all runs as one sequence in time. */
export function eventsOf(world: DemoWorld): DemoEvent[] {
  const events: DemoEvent[] = [];
  for (const run of world.runs) {
    if (run.draftForm !== undefined) events.push({ at: Date.parse(run.startedAt), run, kind: 'draft' });
    run.revisions.forEach((revision, index) => {
      const revisionNumber = index + 1;
      events.push({ at: Date.parse(revision.submittedAt), run, kind: 'submit', revisionNumber, revision });
      const { review } = revision;
      if (review === undefined) return;
      events.push({ at: Date.parse(review.claimedAt), run, kind: 'claim', review });
      events.push({
        at: Date.parse(review.decidedAt),
        run,
        kind: 'decide',
        revisionNumber,
        revision,
        review,
      });
    });
    if (run.retraction !== undefined) {
      events.push({ at: Date.parse(run.retraction.at), run, kind: 'retract', reason: run.retraction.reason });
    }
  }
  return events.sort((a, b) => a.at - b.at);
}
