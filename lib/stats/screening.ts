import { cochranTest, criticalCochran, criticalGrubbs, grubbsTest, type Verdict } from './grubbsCochran';
import { criticalH, criticalK, type LaboratoryCell, LEAST_LABORATORIES, mandelStatistics } from './iso5725';
import { carOnLoop, type ModelRun } from './modelRuns';
import { type ScreenedRun, type ScreeningLevels, type SetupResidual, screenRuns } from './runScreening';

interface Judged {
  value: number;
  verdict: Verdict;
}

/** A statistic's critical values at the protocol's two levels. */
interface Critical {
  straggler: number;
  outlier: number;
}

/** One car on one loop in the laboratory's place. */
export interface ScreenedCar {
  /** Car on a loop, as the fit names it. */
  key: string;
  runs: number;
  /** Mandel's h (its mean among the means) and k (its spread among the spreads); null where there is no spread. */
  h: Judged | null;
  k: Judged | null;
}

export interface ScreenedExtreme extends Judged {
  test: 'cochran' | 'grubbsHigh' | 'grubbsLow';
  critical: Critical;
  /** The car on a loop that the statistic points at. */
  key: string;
}

/** Nothing is removed by any of this: a straggler is shown, an outlier goes to a person. */
export type Screening =
  | {
      by: 'iso5725';
      levels: ScreeningLevels;
      runsEach: number;
      cars: ScreenedCar[];
      criticalH: Critical;
      criticalK: Critical;
      extremes: ScreenedExtreme[];
    }
  | {
      by: 'residuals';
      levels: ScreeningLevels;
      /** Why the standard's tests do not apply. */
      reason: 'fewCars' | 'singleRuns' | 'unequalCounts';
      /** Empty where the spread is unknown or a single run carries the setup. */
      runs: ScreenedRun[];
    };

/**
 * Screens a setup's runs: cars on a loop are the laboratories, their runs the replicates, on the log scale. With three
 * cars or more of equal counts by Cochran, Grubbs and Mandel's h and k (ISO 5725-2:1994, 7.3); else by studentised
 * residuals.
 *
 * @param own approved runs of the setup in the class
 * @param residuals theirs at the published components; none without a known spread
 */
export function screenSetup(
  own: readonly ModelRun[],
  residuals: readonly SetupResidual[],
  levels: ScreeningLevels,
): Screening {
  const cells = new Map<string, number[]>();
  for (const run of own) {
    const key = carOnLoop(run.carId, run.loopId);
    const z = Math.log(run.normalisedWhPerKm);
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, [z]);
    else cell.push(z);
  }
  const laboratories = [...cells].map(([laboratory, values]) => ({ laboratory, values }));
  const reason = reasonAgainst(laboratories);
  if (reason === null) return screenLaboratories(laboratories, levels);
  return { by: 'residuals', levels, reason, runs: screenRuns(residuals, levels) };
}

function reasonAgainst(cells: readonly LaboratoryCell[]): 'fewCars' | 'singleRuns' | 'unequalCounts' | null {
  if (cells.length < LEAST_LABORATORIES) return 'fewCars';
  const counts = new Set(cells.map((cell) => cell.values.length));
  if (counts.size > 1) return 'unequalCounts';
  return counts.has(1) ? 'singleRuns' : null;
}

/** The standard's tests on cells of equal count, two values or more. */
function screenLaboratories(cells: readonly LaboratoryCell[], levels: ScreeningLevels): Screening {
  const p = cells.length;
  const n = cells[0]?.values.length ?? 0;
  const at = (critical: (level: number) => number): Critical => ({
    straggler: critical(levels.stragglerLevel),
    outlier: critical(levels.outlierLevel),
  });
  const h = at((level) => criticalH(p, level));
  const k = at((level) => criticalK(p, n, level));
  const grubbs = at((level) => criticalGrubbs(p, level));
  const means = grubbsTest(cells);
  const extremes = [
    {
      test: 'cochran' as const,
      found: cochranTest(cells),
      critical: at((level) => criticalCochran(p, n, level)),
    },
    { test: 'grubbsHigh' as const, found: means?.high, critical: grubbs },
    { test: 'grubbsLow' as const, found: means?.low, critical: grubbs },
  ];
  return {
    by: 'iso5725',
    levels,
    runsEach: n,
    cars: mandelStatistics(cells).map((row) => ({
      key: row.laboratory,
      runs: n,
      h: row.h === null ? null : judged(row.h, h),
      k: row.k === null ? null : judged(row.k, k),
    })),
    criticalH: h,
    criticalK: k,
    extremes: extremes.flatMap(({ test, found, critical }) =>
      found ? [{ test, critical, key: found.laboratory, ...judged(found.statistic, critical) }] : [],
    ),
  };
}

function judged(value: number, critical: Critical): Judged {
  const size = Math.abs(value);
  if (size > critical.outlier) return { value, verdict: 'outlier' };
  return { value, verdict: size > critical.straggler ? 'straggler' : 'consistent' };
}
