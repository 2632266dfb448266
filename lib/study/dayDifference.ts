import type { StudyPlan } from './plan';
import type { CountedStudyRun } from './standing';

/** One day's own difference of a setup from the baseline, held against what such runs repeat to. */
export interface DayDifference {
  sessionId: string;
  day: string;
  setupId: string;
  /** Runs of the setup and of the baseline. */
  runs: [number, number];
  /** Mean of the setup's ln consumptions less that of the baseline's. */
  difference: number;
  /** What the two means differ by at most, in 95 % of cases, were the setups the same. */
  limit: number;
  isBeyond: boolean;
}

/**
 * What the days themselves say, before there is an interval: one run of each setup is enough. Under repeatability
 * conditions (one tester, car and loop, a short time) the means of n₁ and n₂ results of the same thing lie within
 * 2.8 σ_r √(1/(2n₁) + 1/(2n₂)) of each other in 95 % of cases (ISO 5725-6:1994, 4.2.1, from memory; with one result each
 * it is the repeatability limit r = 2.8 σ_r of 4.1), σ_r² = v + mean u² as for the class.
 *
 * @param runVariance σ_r² without the runs' known part, log scale
 */
export function dayDifferences(
  plan: Pick<StudyPlan, 'baselineId' | 'contrasts'>,
  runs: readonly CountedStudyRun[],
  runVariance: number,
): DayDifference[] {
  const bySession = new Map<string, CountedStudyRun[]>();
  for (const run of runs.toSorted((a, b) => a.startedAt.localeCompare(b.startedAt)))
    bySession.set(run.sessionId, [...(bySession.get(run.sessionId) ?? []), run]);
  return plan.contrasts.flatMap(({ setupId }) =>
    [...bySession].flatMap(([sessionId, own]) => {
      const setup = own.filter((run) => run.setupId === setupId);
      const baseline = own.filter((run) => run.setupId === plan.baselineId);
      const [first] = setup;
      if (first === undefined || baseline.length === 0) return [];
      const known = mean([...setup, ...baseline].map(({ u }) => u * u));
      const difference = mean(setup.map(({ z }) => z)) - mean(baseline.map(({ z }) => z));
      const limit =
        2.8 * Math.sqrt(runVariance + known) * Math.sqrt(1 / (2 * setup.length) + 1 / (2 * baseline.length));
      return [
        {
          sessionId,
          day: first.day,
          setupId,
          runs: [setup.length, baseline.length] as [number, number],
          difference,
          limit,
          isBeyond: Math.abs(difference) > limit,
        },
      ];
    }),
  );
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
