import type { StudyPlan } from './plan';

/** A run that belongs to a study, whatever its state. */
export interface StudiedRun {
  number: number;
  setupId: string;
  loopId: string;
  cruiseClassKey: string;
  sessionId: string;
  /** ISO, for the order within a session and of sessions. */
  startedAt: string;
  /** Whether it was driven before the plan was fixed. */
  isBeforePlan: boolean;
}

/** How a run leaves the plan; it stays, with its mark. */
export type Deviation = 'before the plan' | 'other loop' | 'out of order' | 'beyond the plan';

export const DEVIATION_WORDS: Readonly<Record<Deviation, string>> = {
  'before the plan': 'driven before the plan was fixed',
  'other loop': 'on another loop than planned',
  'out of order': 'not the setup that was next in the order',
  'beyond the plan': 'more than the day’s plan',
};

export interface DrivenRun<Run extends StudiedRun> {
  run: Run;
  deviations: Deviation[];
}

export interface DrivenSession<Run extends StudiedRun> {
  sessionId: string;
  /** Its place in the plan, counted from 0, as sessions follow each other in time. */
  place: number;
  /** Null where more sessions were driven than planned. */
  planned: readonly string[] | null;
  runs: DrivenRun<Run>[];
  /** Setups of the order that were not driven, once for each repeat that is missing. */
  missing: string[];
}

/** The runs of a study, session by session in time, held against the plan's order. */
export function drivenSessions<Run extends StudiedRun>(
  plan: Pick<StudyPlan, 'days' | 'loopId'>,
  runs: readonly Run[],
): DrivenSession<Run>[] {
  const bySession = new Map<string, Run[]>();
  for (const run of [...runs].sort((a, b) => a.startedAt.localeCompare(b.startedAt) || a.number - b.number)) {
    bySession.set(run.sessionId, [...(bySession.get(run.sessionId) ?? []), run]);
  }
  return [...bySession].map(([sessionId, own], place) => {
    const planned = plan.days[place] ?? null;
    return {
      sessionId,
      place,
      planned,
      runs: own.map((run, at) => ({ run, deviations: deviationsOf(run, planned?.[at], plan.loopId) })),
      missing: missingOf(
        planned ?? [],
        own.map(({ setupId }) => setupId),
      ),
    };
  });
}

function deviationsOf(run: StudiedRun, planned: string | undefined, loopId: string): Deviation[] {
  const found: Deviation[] = [];
  if (run.isBeforePlan) found.push('before the plan');
  if (run.loopId !== loopId) found.push('other loop');
  if (planned === undefined) found.push('beyond the plan');
  else if (planned !== run.setupId) found.push('out of order');
  return found;
}

function missingOf(planned: readonly string[], driven: readonly string[]): string[] {
  const left = [...driven];
  return planned.filter((setup) => {
    const at = left.indexOf(setup);
    if (at !== -1) left.splice(at, 1);
    return at === -1;
  });
}

/** Whether what counts is the plan and nothing else: every session of it, no repeat missing, none beyond. */
export function isAsPlanned(plan: Pick<StudyPlan, 'days'>, sessions: readonly DrivenSession<StudiedRun>[]) {
  return (
    sessions.length === plan.days.length &&
    sessions.every(
      ({ missing, runs }) =>
        missing.length === 0 &&
        runs.every(({ deviations }) =>
          deviations.every((one) => one !== 'beyond the plan' && one !== 'before the plan'),
        ),
    )
  );
}
