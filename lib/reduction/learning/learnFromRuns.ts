import { consumptionBand } from '@/lib/physics/consumptionBand';
import { beatsPriors, conjugateRegression, type RoadLoadBelief } from '@/lib/physics/learned';
import { STANDARD_REFERENCE } from '@/lib/physics/roadLoad';
import { type LearnableRun, type LearningRow, learningRow, withCommonUnknowns } from './learningRows';

/** Variances of ln consumption: between cars, between sessions of a car, between runs of a session. */
export interface RelativeSpread {
  car: number;
  session: number;
  residual: number;
  /** Where they come from, in words. */
  from: string;
}

/** Where no fit says how runs scatter: 2 % between cars, 1 % between days and between runs. Common practice, no source. */
export const ASSUMED_SPREAD: RelativeSpread = {
  car: 0.02 ** 2,
  session: 0.01 ** 2,
  residual: 0.01 ** 2,
  from: 'assumed: 2 % between cars, 1 % between days, 1 % between runs',
};

export interface BandRow {
  speedMps: number;
  consumptionWhPerKm: number;
  /** Standard uncertainty of the model's mean consumption. */
  uMeanWhPerKm: number;
  /** Of one run of a further car, with the scatter of cars, days and runs. */
  uRunWhPerKm: number;
}

export interface LearnedRun {
  runNumber: number;
  cruiseSpeedMps: number;
  /** At the band's conditions and the run's own speed: the learned mean and the run's residual about it. */
  consumptionWhPerKm: number;
}

export interface Learning {
  prior: RoadLoadBelief;
  posterior: RoadLoadBelief;
  runs: number;
  cars: number;
  sessions: number;
  spread: RelativeSpread;
  /** Natural logarithms, summed over cars: all runs of each predicted from the other cars, and from the priors alone. */
  leftOutCarsLogScore: number;
  priorLogScore: number;
  beatsPriors: boolean;
  /** Mean mass as driven, for which the band is drawn. */
  massKg: number;
  band: BandRow[];
  points: LearnedRun[];
}

const BAND_POINTS = 25;
/** The band goes this far beyond the slowest and the fastest run. */
const BAND_MARGIN_MPS = 3;

/**
 * The road load of one model from its runs (method A7): conjugate posterior of (CdA/η, Crr/η, P_aux), its log
 * score over left-out cars beside that of the priors, and consumption against steady speed at reference conditions.
 */
export function learnFromRuns(
  runs: readonly LearnableRun[],
  prior: RoadLoadBelief,
  spread: RelativeSpread,
): Learning {
  if (runs.length === 0) throw new RangeError('nothing to learn from');
  const rows = runs.map((run) => learningRow(run, prior));
  const fitted = conjugateRegression(
    rows.map(({ row }) => row),
    rows.map(({ y }) => y),
    noiseOf(rows, spread, prior.mean[0] ?? 0),
    withCommonUnknowns(prior),
    runs.map((run) => run.carId),
  );
  const posterior = firstThree(fitted.posterior);
  const massKg = runs.reduce((sum, run) => sum + run.engineCase.vehicle.massKg, 0) / runs.length;
  const band = (speedsMps: readonly number[]) => referenceBand(posterior, spread, massKg, speedsMps);
  const speeds = rows.map((row) => row.cruiseSpeedMps);
  return {
    prior,
    posterior,
    runs: runs.length,
    cars: fitted.cars,
    sessions: new Set(runs.map((run) => run.sessionId)).size,
    spread,
    leftOutCarsLogScore: fitted.leftOutCarsLogScore,
    priorLogScore: fitted.priorLogScore,
    beatsPriors: beatsPriors(fitted),
    massKg,
    band: band(spaced(Math.min(...speeds) - BAND_MARGIN_MPS, Math.max(...speeds) + BAND_MARGIN_MPS)),
    points: band(speeds).map((at, i) => {
      const { row, y, run } = rows[i] as LearningRow;
      const expected = row.reduce((sum, value, k) => sum + value * (fitted.posterior.mean[k] ?? 0), 0);
      return {
        runNumber: run.runNumber,
        cruiseSpeedMps: at.speedMps,
        consumptionWhPerKm: at.consumptionWhPerKm + y - expected,
      };
    }),
  };
}

/** Standard deviation of one car's drag about its model's, as a share of it: open windows, racks, ride. Own judgement. */
const CAR_DRAG_SHARE = 0.03;

/**
 * A run's own uncertainty and the scatter of cars, sessions and runs, which grow with consumption; and that a car's drag
 * alone departs from its model's, which no speed averages out.
 */
function noiseOf(
  rows: readonly LearningRow[],
  spread: RelativeSpread,
  dragOverEfficiencyM2: number,
): number[][] {
  const ownDrag = ({ row }: LearningRow) => CAR_DRAG_SHARE * dragOverEfficiencyM2 * (row[0] ?? 0);
  return rows.map((rowA, i) =>
    rows.map((rowB, j) => {
      const [a, b] = [rowA.run, rowB.run];
      let relative = 0;
      if (a.carId === b.carId) relative += spread.car;
      if (a.sessionId === b.sessionId) relative += spread.session;
      if (i === j) relative += spread.residual + a.uRunRelative ** 2;
      const drag = a.carId === b.carId ? ownDrag(rowA) * ownDrag(rowB) : 0;
      return relative * a.measuredWhPerKm * b.measuredWhPerKm + drag;
    }),
  );
}

/** At 20 °C, 1.189 kg/m³, calm and level with the reference's auxiliary power, so that it meets the published numbers. */
function referenceBand(
  belief: RoadLoadBelief,
  spread: RelativeSpread,
  massKg: number,
  speedsMps: readonly number[],
): BandRow[] {
  const atReference: RoadLoadBelief = {
    mean: [belief.mean[0] ?? 0, belief.mean[1] ?? 0, STANDARD_REFERENCE.auxiliaryPowerW],
    covariance: belief.covariance.map((line, i) => line.map((value, j) => (i === 2 || j === 2 ? 0 : value))),
  };
  const scatter = Math.sqrt(spread.car + spread.session + spread.residual);
  const none = { carWhPerKm: 0, runWhPerKm: 0 };
  return consumptionBand(atReference, none, { ...STANDARD_REFERENCE, massKg }, speedsMps).map(
    ({ speedMps, consumptionWhPerKm, uMeanWhPerKm }) => ({
      speedMps,
      consumptionWhPerKm,
      uMeanWhPerKm,
      uRunWhPerKm: Math.hypot(uMeanWhPerKm, scatter * consumptionWhPerKm),
    }),
  );
}

function firstThree(belief: RoadLoadBelief): RoadLoadBelief {
  return {
    mean: belief.mean.slice(0, 3),
    covariance: belief.covariance.slice(0, 3).map((line) => line.slice(0, 3)),
  };
}

function spaced(from: number, to: number): number[] {
  return Array.from({ length: BAND_POINTS }, (_, i) => from + ((to - from) * i) / (BAND_POINTS - 1));
}
