import { sharedContributions } from '@/lib/reduction/runParts';
import type { WorldKey } from '@/lib/run/world';
import type { ModelRun } from '@/lib/stats/modelRuns';
import type { RankedRuns, SetupStanding } from '@/lib/stats/modelStanding';
import { intervalAbout, predictionDf, predictRun } from '@/lib/stats/prediction';
import {
  type ScreenedRun,
  type ScreeningLevels,
  studentisedBeside,
  verdictAt,
} from '@/lib/stats/runScreening';
import type { SharedContribution } from '@/lib/stats/scopes';
import { readyRows } from '@/lib/stats/sessionSpread';
import type { FitSummary } from '@/lib/stats/stored';
import { hasCounted } from '@/lib/store/countedRuns';
import {
  carResults,
  fitRunOf,
  hasStandings,
  holmBeside,
  modelStandingOf,
  setupStandingOf,
} from '@/lib/store/fitStandings';
import { currentFit } from '@/lib/store/fits';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';

/** Where a run falls among the approved runs of its setup and its model in the same class, as of the published fit. */
export interface RunStanding {
  /** The run with the standard uncertainty of its number, which all readers see beside it. */
  own: { number: number; normalisedWhPerKm: number; uWhPerKm: number };
  ofSetup: RankedRuns;
  /** The model's other setups. */
  ofModel: RankedRuns;
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

/** There are other runs, but the published fit says nothing of single ones: the next one will. */
export const STANDING_DUE = 'due';

export interface StandingSubject extends ModelRun {
  runId: string;
  uWhPerKm: number;
  modelId: string;
  cruiseClassKey: string;
  world: WorldKey;
  methodVersion: string;
  shared: readonly SharedContribution[];
}

/** Of one car in one class; a car that has driven more is judged by the latest. */
const MOST_CAR_RUNS = 2000;
const NO_RUNS: RankedRuns = { count: 0, shown: [] };

/**
 * Leave-one-out: what the fit kept of a run that it was made from; of another what the fit's effects and the runs of the
 * same car let expect. No more is read than what the fit kept and the runs of one car.
 */
export async function runStanding(
  registry: Registry,
  subject: StandingSubject,
): Promise<RunStanding | typeof STANDING_DUE> {
  const { cruiseClassKey, world, modelId, methodVersion } = subject;
  const group = { cruiseClassKey, world };
  const fit = await currentFit(registry.db, group);
  const isOfMethod = fit?.methodVersion === methodVersion;
  if (fit === null || !isOfMethod || !(await hasStandings(registry.db, fit.id))) {
    const of = { ...group, modelId, methodVersion };
    return (await hasCounted(registry.db, of, subject.number)) ? STANDING_DUE : amongNone(subject);
  }
  const [own, ofSetup, ofModel, protocol] = await Promise.all([
    fitRunOf(registry.db, fit.id, subject.runId),
    setupStandingOf(registry.db, fit.id, subject.setupId),
    modelStandingOf(registry.db, fit.id, modelId),
    activeProtocol(registry),
  ]);
  if (ofModel === null) return amongNone(subject);
  if (ofSetup === undefined || ofModel.all === undefined) return STANDING_DUE;
  // An old fit did not keep how well its components are known: nothing is expected from it.
  const judged =
    fit.summary === undefined || fit.summary.componentCovariance.length === 0
      ? null
      : await (own === null
          ? judgeBeside(registry, subject, fit.id, fit.summary, ofModel.effects)
          : judgeWithin(subject, own, fit.summary, ofSetup?.ofSetup.count ?? 0));
  const levels = protocol.parameters.screening;
  return {
    ...amongOthers(subject, own, ofSetup),
    ofModel: ofSetup?.others ?? ofModel.all,
    prediction: judged && predictionOf(subject, judged),
    screening: judged?.residual
      ? {
          number: subject.number,
          ...judged.residual,
          verdict: verdictAt(judged.residual.pHolm, levels),
          stragglerLevel: levels.stragglerLevel,
          outlierLevel: levels.outlierLevel,
        }
      : null,
  };
}

function amongNone(subject: StandingSubject): RunStanding {
  return { ...amongOthers(subject, null, null), ofModel: NO_RUNS, prediction: null, screening: null };
}

/** The setup's runs without the run itself. */
function amongOthers(
  { number, normalisedWhPerKm, uWhPerKm }: StandingSubject,
  own: { isOnlyOfCar: boolean; isOnlyOfSession: boolean } | null,
  standing: SetupStanding | null,
): Omit<RunStanding, 'ofModel' | 'prediction' | 'screening'> {
  const n = standing?.ofSetup.count ?? 0;
  const others = own === null ? n : n - 1;
  const same = { own: { number, normalisedWhPerKm, uWhPerKm } };
  if (standing === null || others === 0)
    return { ...same, ofSetup: NO_RUNS, cars: 0, sessions: 0, meanWhPerKm: null, fromMean: null };
  const sum = n * standing.meanLog - (own === null ? 0 : Math.log(normalisedWhPerKm));
  const meanWhPerKm = Math.exp(sum / others);
  return {
    ...same,
    ofSetup: { count: others, shown: standing.ofSetup.shown.filter((run) => run.number !== number) },
    cars: standing.cars - Number(own?.isOnlyOfCar ?? false),
    sessions: standing.sessions - Number(own?.isOnlyOfSession ?? false),
    meanWhPerKm,
    fromMean: normalisedWhPerKm / meanWhPerKm - 1,
  };
}

interface Judged {
  mean: number;
  interval: [number, number] | null;
  knowsCar: boolean;
  knowsSession: boolean;
  residual: { studentised: number; p: number; pHolm: number; among: number } | null;
}

function judgeWithin(
  subject: StandingSubject,
  own: NonNullable<Awaited<ReturnType<typeof fitRunOf>>>,
  { components, componentCovariance }: FitSummary,
  among: number,
): Judged | null {
  const { leaveOneOut, sd, studentised, p, pHolm, knowsCar, knowsSession } = own;
  if (leaveOneOut === null || sd === null) return null;
  const mean = Math.log(subject.normalisedWhPerKm) - leaveOneOut;
  const isJudged = studentised !== null && p !== null && pHolm !== null;
  const residual = isJudged ? { studentised, p, pHolm, among } : null;
  const df = predictionDf(
    components,
    componentCovariance,
    { knowsCar, knowsLoop: knowsCar, knowsSession },
    subject.uRunRelative,
  );
  return { mean, interval: intervalAbout(mean, sd, df), knowsCar, knowsSession, residual };
}

async function judgeBeside(
  registry: Registry,
  subject: StandingSubject,
  fitId: string,
  { components, componentCovariance }: FitSummary,
  effects: NonNullable<Awaited<ReturnType<typeof modelStandingOf>>>['effects'],
): Promise<Judged | null> {
  if (effects === undefined) return null;
  const { carId, cruiseClassKey, world, methodVersion, setupId } = subject;
  const of = { carId, cruiseClassKey, world, methodVersion };
  const rows = await carResults(registry.db, of, subject.number, MOST_CAR_RUNS);
  const { loopId, sessionId, shared } = subject;
  // as a fit with the run among them would take them
  const [run, ...ofCar] = readyRows([
    {
      setup: setupId,
      car: carId,
      ...(loopId === null ? {} : { loop: loopId }),
      session: sessionId,
      z: Math.log(subject.normalisedWhPerKm),
      u: subject.uRunRelative,
      shared,
    },
    ...rows.map(({ parts, ...row }) => ({
      setup: row.setupId,
      car: row.carId,
      loop: row.loopId,
      session: row.sessionId,
      z: row.z,
      u: row.u,
      shared: sharedContributions(parts),
    })),
  ]);
  if (run === undefined) return null;
  const predicted = predictRun(effects, ofCar, components, componentCovariance, run);
  if (predicted === null) return null;
  const { mean, sd, interval, knowsCar, knowsSession } = predicted;
  // On a spread that is assumed alone no run is odd.
  if (effects.runs <= effects.setups.length)
    return { mean, interval, knowsCar, knowsSession, residual: null };
  const residual = studentisedBeside(
    { leaveOneOut: Math.log(subject.normalisedWhPerKm) - mean, sd },
    { runs: effects.runs, setups: effects.setups.length, quadratic: effects.quadratic },
  );
  const adjusted = await holmBeside(registry.db, { fitId, setupId, p: residual.p });
  return { mean, interval, knowsCar, knowsSession, residual: { ...residual, ...adjusted } };
}

function predictionOf(
  subject: StandingSubject,
  { mean, interval, knowsCar, knowsSession }: Judged,
): RunStanding['prediction'] {
  if (interval === null) return null;
  const [low, high] = interval;
  const own = Math.log(subject.normalisedWhPerKm);
  return {
    meanWhPerKm: Math.exp(mean),
    lowWhPerKm: Math.exp(low),
    highWhPerKm: Math.exp(high),
    isInside: own >= low && own <= high,
    knowsCar,
    knowsSession,
  };
}
