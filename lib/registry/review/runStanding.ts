import type { WorldKey } from '@/lib/run/world';
import { type ModelRun, observationOf } from '@/lib/stats/modelRuns';
import { predictRun } from '@/lib/stats/prediction';
import { type ScreenedRun, type ScreeningLevels, screenRuns } from '@/lib/stats/runScreening';
import type { FitSummary } from '@/lib/stats/stored';
import { modelResults } from '@/lib/store/countedRuns';
import { currentFit } from '@/lib/store/fits';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';

export interface StandingRun {
  number: number;
  setupId: string;
  normalisedWhPerKm: number;
}

/** By consumption, the lowest first. */
export interface StandingRuns {
  /** All of them. */
  count: number;
  /** At most 500: both ends and, past that, those at equal steps of rank between. */
  shown: StandingRun[];
}

const MOST_SHOWN = 500;

/** Where a run falls among the approved runs of its setup and its model in the same class. */
export interface RunStanding {
  own: StandingRun;
  ofSetup: StandingRuns;
  /** The model's other setups. */
  ofModel: StandingRuns;
  cars: number;
  sessions: number;
  /** Geometric mean of the setup's others, and how far the run is from it. */
  meanWhPerKm: number | null;
  fromMean: number | null;
  prediction: {
    meanWhPerKm: number;
    lowWhPerKm: number;
    highWhPerKm: number;
    isInside: boolean;
    knowsCar: boolean;
    knowsSession: boolean;
  } | null;
  /** Whether the run would be flagged among its setup's runs, itself counted, at the levels of the protocol in force. */
  screening: (ScreenedRun & ScreeningLevels & { among: number }) | null;
}

export interface StandingSubject extends ModelRun {
  modelId: string;
  cruiseClassKey: string;
  world: WorldKey;
  methodVersion: string;
}

/**
 * Leave-one-out: the prediction uses every approved run of the model but this one, with the components of the class's
 * published fit. Runs of other models share neither car nor session with it and would change nothing.
 */
export async function runStanding(registry: Registry, subject: StandingSubject): Promise<RunStanding> {
  const group = { cruiseClassKey: subject.cruiseClassKey, world: subject.world };
  const [rows, fit, protocol] = await Promise.all([
    modelResults(registry.db, { ...group, modelId: subject.modelId }, subject.methodVersion),
    currentFit(registry.db, group),
    activeProtocol(registry),
  ]);
  const others = rows.filter((row) => row.number !== subject.number);
  const ofSetup = others.filter((row) => row.setupId === subject.setupId);
  const summary = fit?.methodVersion === subject.methodVersion ? fit.summary : undefined;
  const meanWhPerKm =
    ofSetup.length === 0
      ? null
      : Math.exp(ofSetup.reduce((sum, row) => sum + Math.log(row.normalisedWhPerKm), 0) / ofSetup.length);
  return {
    own: standingRun(subject),
    ofSetup: standingRuns(ofSetup),
    ofModel: standingRuns(others.filter((row) => row.setupId !== subject.setupId)),
    cars: new Set(ofSetup.map((row) => row.carId)).size,
    sessions: new Set(ofSetup.map((row) => row.sessionId)).size,
    meanWhPerKm,
    fromMean: meanWhPerKm === null ? null : subject.normalisedWhPerKm / meanWhPerKm - 1,
    prediction: summary === undefined ? null : predict(others, summary, subject),
    screening: summary === undefined ? null : screen(others, summary, subject, protocol.parameters.screening),
  };
}

/** The same leave-one-out prediction, in units of its own spread, beside those of the setup's other runs. */
function screen(
  others: readonly ModelRun[],
  { components, residualDf }: FitSummary,
  subject: StandingSubject,
  { stragglerLevel, outlierLevel }: ScreeningLevels,
): RunStanding['screening'] {
  if (!(residualDf >= 1)) return null;
  const levels = { stragglerLevel, outlierLevel };
  const screened = screenRuns([...others, subject], subject.setupId, components, levels);
  const own = screened.find((run) => run.number === subject.number);
  return own === undefined ? null : { ...own, ...levels, among: screened.length };
}

function predict(
  others: readonly ModelRun[],
  { components, componentCovariance }: FitSummary,
  subject: StandingSubject,
): RunStanding['prediction'] {
  // Without replicates and without an assumed spread there is none to predict with; nor from a fit whose covariance
  // of components was not kept.
  if (componentCovariance.length === 0 || !(components.residual > 0)) return null;
  const predicted = predictRun(others.map(observationOf), components, componentCovariance, {
    setup: subject.setupId,
    car: subject.carId,
    ...(subject.loopId === null ? {} : { loop: subject.loopId }),
    session: subject.sessionId,
    u: subject.uRunRelative,
  });
  if (predicted === null) return null;
  const [low, high] = predicted.interval;
  const own = Math.log(subject.normalisedWhPerKm);
  return {
    meanWhPerKm: Math.exp(predicted.mean),
    lowWhPerKm: Math.exp(low),
    highWhPerKm: Math.exp(high),
    isInside: own >= low && own <= high,
    knowsCar: predicted.knowsCar,
    knowsSession: predicted.knowsSession,
  };
}

function standingRuns(runs: readonly StandingRun[]): StandingRuns {
  const sorted = runs.map(standingRun).sort((a, b) => a.normalisedWhPerKm - b.normalisedWhPerKm);
  const step = (sorted.length - 1) / (MOST_SHOWN - 1);
  const shown = step <= 1 ? sorted : sorted.filter((_, i) => i === Math.round(Math.round(i / step) * step));
  return { count: sorted.length, shown };
}

function standingRun({ number, setupId, normalisedWhPerKm }: StandingRun): StandingRun {
  return { number, setupId, normalisedWhPerKm };
}
