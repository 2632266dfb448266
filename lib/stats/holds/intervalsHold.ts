import type { FitOptions } from '../groupFit';
import { readyRows } from '../sessionSpread';
import { type CoverageCount, countCoverage, histogramOf, probabilityTransform } from './coverage';
import { type Dispersion, dispersions } from './dispersion';
import { leaveOutCars } from './leaveOutCar';
import { type ApprovedRun, predictInTurn, type UsedComponents } from './predictInTurn';

/** What speaks against a class's intervals. */
export type Fault = 'narrow' | 'wide' | 'uneven' | 'carsNarrow';

/** Do the intervals of a class hold? Counts and bins, so that its size does not grow with the class. */
export interface IntervalsHold {
  runs: { predicted: number; notPredicted: number };
  sessions: { predicted: number; notPredicted: number };
  /** How often the components were estimated anew on the way. */
  refits: number;
  coverage: CoverageCount[];
  /** Transforms in each tenth. */
  histogram: number[];
  /** Those that scatter most, and how many were asked about. */
  dispersion: Dispersion[];
  dispersionTests: number;
  /** Each car's level predicted from the others. */
  cars: CoverageCount[];
  /** Empty where nothing speaks against them; null where too little could be predicted to say. */
  faults: Fault[] | null;
}

/** Fewer predicted runs than these say neither way. Common practice, no source. */
export const LEAST_PREDICTED = 30;
const LEAST_CARS = 10;
const MOST_DISPERSIONS = 12;
/** Of the F tests by Holm: a class in forty is called uneven where all scatter alike. */
const DISPERSION_LEVEL = 0.025;

/**
 * Every session predicted from what came before it, what its runs scatter by car, tester and loop, and every car's
 * level predicted from the others (method C5). A class fails where the 95 % intervals hold less or more often than
 * the counts allow, or where some scatter more than the rest: one figure for all is then wrong for them.
 *
 * @param published components of the class's fit, for what is asked at held ones
 */
export function intervalsHold(
  rows: readonly ApprovedRun[],
  published: UsedComponents,
  refitWith: Pick<FitOptions, 'priors' | 'pooledCarLoop'>,
): IntervalsHold {
  const inTurn = predictInTurn(rows, { refitWith });
  const transforms = inTurn.predicted.map(({ innovation }) =>
    probabilityTransform(innovation.value, innovation.df),
  );
  const coverage = countCoverage(transforms);
  const dispersion = dispersions(predictInTurn(rows, published).predicted);
  const cars = countCoverage(
    leaveOutCars(readyRows(rows), published).map(({ innovation }) =>
      probabilityTransform(innovation.value, innovation.df),
    ),
  );
  return {
    runs: { predicted: transforms.length, notPredicted: rows.length - transforms.length },
    sessions: { predicted: inTurn.sessions, notPredicted: inTurn.notPredicted },
    refits: inTurn.refits,
    coverage,
    histogram: histogramOf(transforms),
    dispersion: dispersion.slice(0, MOST_DISPERSIONS),
    dispersionTests: dispersion.length,
    cars,
    faults: faultsIn(coverage, dispersion, cars),
  };
}

function faultsIn(
  coverage: readonly CoverageCount[],
  dispersion: readonly Dispersion[],
  cars: readonly CoverageCount[],
): Fault[] | null {
  const [runs95, cars95] = [at95(coverage), at95(cars)];
  if (runs95 === undefined || runs95.of < LEAST_PREDICTED) return null;
  const faults: Fault[] = [];
  if (runs95.high < runs95.level) faults.push('narrow');
  if (runs95.low > runs95.level) faults.push('wide');
  if (dispersion.some(({ pHolm }) => pHolm < DISPERSION_LEVEL)) faults.push('uneven');
  if (cars95 !== undefined && cars95.of >= LEAST_CARS && cars95.high < cars95.level)
    faults.push('carsNarrow');
  return faults;
}

function at95(counts: readonly CoverageCount[]): CoverageCount | undefined {
  return counts.find(({ level }) => level === 0.95);
}
