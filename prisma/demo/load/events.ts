import type {
  DemoGuess,
  DemoRequest,
  DemoReview,
  DemoRevision,
  DemoRun,
  DemoStudy,
  DemoWorld,
} from '../world/types';

/** One thing that somebody does with a study, at its instant. */
export type DemoStudyEvent = { at: number; study: DemoStudy } & (
  | { kind: 'plan' | 'begin' | 'complete' }
  | { kind: 'join'; testerKey: string }
  | { kind: 'guess'; guess: DemoGuess }
  | { kind: 'abandon'; reason: string }
);

/** One thing that somebody does with a request, at its instant. */
export type DemoRequestEvent = { at: number; request: DemoRequest } & (
  | { kind: 'ask' }
  | { kind: 'voice'; personKey: string }
);

/** One thing that somebody does with a run, at its instant. */
export type DemoRunEvent = { at: number; run: DemoRun } & (
  | { kind: 'draft' }
  | { kind: 'submit'; revisionNumber: number; revision: DemoRevision }
  | { kind: 'claim'; review: DemoReview }
  | { kind: 'decide'; revisionNumber: number; revision: DemoRevision; review: DemoReview }
  | { kind: 'retract'; reason: string }
);

export type DemoEvent = DemoRunEvent | DemoStudyEvent | DemoRequestEvent;

/** The life of all runs, studies and requests as one sequence in time. */
export function eventsOf(world: DemoWorld): DemoEvent[] {
  return [
    ...world.runs.flatMap(runEvents),
    ...world.requests.flatMap(requestEvents),
    ...world.studies.flatMap(studyEvents),
  ].sort((a, b) => a.at - b.at);
}

export function wordsOf(event: DemoEvent): string {
  const [thing, key] =
    'run' in event
      ? ['run', event.run.key]
      : 'study' in event
        ? ['study', event.study.key]
        : ['request', event.request.key];
  return `${event.kind}, ${thing} “${key}”`;
}

function requestEvents(request: DemoRequest): DemoRequestEvent[] {
  return [
    { at: Date.parse(request.askedAt), request, kind: 'ask' },
    ...request.voices.map(({ personKey, at }) => ({
      at: Date.parse(at),
      request,
      kind: 'voice' as const,
      personKey,
    })),
  ];
}

function studyEvents(study: DemoStudy): DemoStudyEvent[] {
  const at = Date.parse;
  const { plannedAt, begunAt, joined, guesses, ended } = study;
  return [
    { at: at(plannedAt), study, kind: 'plan' },
    { at: at(begunAt), study, kind: 'begin' },
    ...joined.map((one) => ({ at: at(one.at), study, kind: 'join' as const, testerKey: one.testerKey })),
    ...guesses.map((guess) => ({ at: at(guess.at), study, kind: 'guess' as const, guess })),
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
