import { tTwoSided } from '@/lib/numerics/distributions';
import type { Variances } from './accumulate';
import type { Verdict } from './grubbsCochran';
import { holm } from './maxT';
import { type ModelRun, observationOf } from './modelRuns';
import { leaveOneOutResiduals } from './studentised';

/** The protocol's levels: 5 % marks a straggler and 1 % an outlier, unless a version says otherwise. */
export interface ScreeningLevels {
  stragglerLevel: number;
  outlierLevel: number;
}

/** How one run stands among all runs of its setup. */
export interface ScreenedRun {
  number: number;
  /** Externally studentised leave-one-out residual; negative used less than the others let expect. */
  studentised: number;
  p: number;
  /** Adjusted by Holm over the runs of the setup. */
  pHolm: number;
  verdict: Verdict;
}

export interface SetupResidual extends Omit<ScreenedRun, 'verdict'> {
  /** ln of the run less what the others let expect, and the standard deviation of that. */
  leaveOneOut: number;
  sd: number;
}

/**
 * Externally studentised residuals of a model's runs at the published components by setup, p-values by Holm within the
 * setup (the rule for unequal counts, for which ISO 5725-2 has no table). The model's other setups tell of the cars
 * and days. A run that alone carries its setup has no such residual and is left out.
 */
export function residualsBySetup(
  runs: readonly ModelRun[],
  components: Variances,
): Map<string, SetupResidual[]> {
  if (runs.length === 0 || !(components.residual > 0)) return new Map();
  const bySetup = new Map<string, Omit<SetupResidual, 'pHolm'>[]>();
  for (const { index, leaveOneOut, sd, studentised, p } of leaveOneOutResiduals(
    runs.map(observationOf),
    components,
  )) {
    const run = runs[index] as ModelRun;
    const own = bySetup.get(run.setupId) ?? [];
    bySetup.set(run.setupId, own);
    own.push({ number: run.number, leaveOneOut, sd, studentised, p });
  }
  return new Map(
    [...bySetup].map(([setupId, own]) => {
      const adjusted = holm(own.map(({ p }) => p));
      return [setupId, own.map((residual, i) => ({ ...residual, pHolm: adjusted[i] as number }))];
    }),
  );
}

export function screenRuns(residuals: readonly SetupResidual[], levels: ScreeningLevels): ScreenedRun[] {
  return residuals.map(({ number, studentised, p, pHolm }) => ({
    number,
    studentised,
    p,
    pHolm,
    verdict: verdictAt(pHolm, levels),
  }));
}

export function verdictAt(p: number, { stragglerLevel, outlierLevel }: ScreeningLevels): Verdict {
  if (p <= outlierLevel) return 'outlier';
  return p <= stragglerLevel ? 'straggler' : 'consistent';
}

/**
 * A run that is not among those that a fit was made from, against them: its studentised residual as if it were one of
 * them. With r the residual of its prediction and s its standard deviation, taking it in adds (r/s)² to z'Pz and one
 * run to their number (Cook and Weisberg 1982, ch. 2).
 *
 * @param known number of runs and of setups, and z'Pz without it
 */
export function studentisedBeside(
  { leaveOneOut, sd }: { leaveOneOut: number; sd: number },
  known: { runs: number; setups: number; quadratic: number },
): { studentised: number; p: number } {
  const nu = known.runs + 1 - known.setups;
  const square = (leaveOneOut / sd) ** 2;
  const internal = leaveOneOut / sd / Math.sqrt((known.quadratic + square) / nu);
  const left = nu - internal * internal;
  const studentised = left > 0 ? internal * Math.sqrt((nu - 1) / left) : internal * Number.POSITIVE_INFINITY;
  return { studentised, p: nu > 1 ? tTwoSided(studentised, nu - 1) : 1 };
}
