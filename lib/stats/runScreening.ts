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

/**
 * Externally studentised residuals of a setup's runs at the published components, p-values by Holm within the setup
 * (the rule for unequal counts, for which ISO 5725-2 has no table). The model's other setups tell of the cars and
 * days. A run that alone carries its setup has no such residual and is left out.
 */
export function screenRuns(
  runs: readonly ModelRun[],
  setupId: string,
  components: Variances,
  levels: ScreeningLevels,
): ScreenedRun[] {
  if (runs.length === 0 || !(components.residual > 0)) return [];
  const own = leaveOneOutResiduals(runs.map(observationOf), components).flatMap((residual) => {
    const run = runs[residual.index];
    return run?.setupId === setupId ? [{ ...residual, number: run.number }] : [];
  });
  const adjusted = holm(own.map(({ p }) => p));
  return own.map(({ number, studentised, p }, i) => {
    const pHolm = adjusted[i] as number;
    return { number, studentised, p, pHolm, verdict: verdictAt(pHolm, levels) };
  });
}

function verdictAt(p: number, { stragglerLevel, outlierLevel }: ScreeningLevels): Verdict {
  if (p <= outlierLevel) return 'outlier';
  return p <= stragglerLevel ? 'straggler' : 'consistent';
}
