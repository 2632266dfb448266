import type { DemoReview, DemoRevision, DemoRun, DemoStudy, DemoWorld } from '../world/types';

/** One thing that somebody does with a study, at its instant. */
export type DemoStudyEvent = { at: number; study: DemoStudy } & (
  | { kind: 'plan' | 'begin' | 'complete' }
  | { kind: 'join'; testerKey: string }
  | { kind: 'abandon'; reason: string }
);

/** One thing that somebody does with a run, at its instant. */
export type DemoRunEvent = { at: number; run: DemoRun } & (
  | { kind: 'draft' }
  | { kind: 'submit'; revisionNumber: number; revision: DemoRevision }
  | { kind: 'claim'; review: DemoReview }
  | { kind: 'decide'; revisionNumber: number; revision: DemoRevision; review: DemoReview }
  | { kind: 'retract'; reason: string }
);

export type DemoEvent = DemoRunEvent | DemoStudyEvent;

/** The life of all runs and studies as one sequence in time. */
export function eventsOf(world: DemoWorld): DemoEvent[] {
  return [...world.runs.flatMap(runEvents), ...world.studies.flatMap(studyEvents)].sort(
    (a, b) => a.at - b.at,
  );
}

export function wordsOf(event: DemoEvent): string {
  return 'run' in event
    ? `${event.kind}, run “${event.run.key}”`
    : `${event.kind}, study “${event.study.key}”`;
}

function studyEvents(study: DemoStudy): DemoStudyEvent[] {
  const at = Date.parse;
  const { plannedAt, begunAt, joined, ended } = study;
  return [
    { at: at(plannedAt), study, kind: 'plan' },
    { at: at(begunAt), study, kind: 'begin' },
    ...joined.map((one) => ({ at: at(one.at), study, kind: 'join' as const, testerKey: one.testerKey })),
    ...(ended === undefined ? [] : [{ ...ended, at: at(ended.at), study }]),
  ];
}

function runEvents(run: DemoRun): DemoRunEvent[] {
  const events: DemoRunEvent[] = [];
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
  return events;
}
