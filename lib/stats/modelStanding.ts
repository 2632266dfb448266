import type { Variances } from './accumulate';
import type { GroupFit } from './groupFit';
import { carOnLoop, type ModelRun, observationOf } from './modelRuns';
import { type FixedEffects, fixedEffects } from './prediction';
import { nameAt, type RunColumns, rowAt } from './runColumns';
import { residualsBySetup, type ScreeningLevels } from './runScreening';
import { screenSetup } from './screening';
import { readyColumns } from './sessionSpread';
import { type CarDeviation, setupShrinkage } from './setupShrinkage';
import { type ShownScreening, shownScreening } from './shownScreening';
import { shrunkEffects } from './shrinkage';

/**
 * What pages say of single runs, cars and days by a fit, for one model: computed once, when the fit is made, since each
 * number takes all of the model's runs. What is kept of a setup is bounded however many its runs are.
 */
export interface ModelStanding {
  runs: StoodRun[];
  setups: { setupId: string; standing: SetupStanding; spread: KeptSpread }[];
  /** For runs that are not in the fit; null where the spread is unknown. */
  effects: FixedEffects | null;
  /** All of the model's runs. */
  all: RankedRuns;
}

/** A run among the others of the fit. The numbers are null where a run alone carries its setup. */
export interface StoodRun {
  runId: string;
  setupId: string;
  /** ln of the run less what the others let expect, and the standard deviation of that. */
  leaveOneOut: number | null;
  sd: number | null;
  studentised: number | null;
  p: number | null;
  /** By Holm among the setup's runs. */
  pHolm: number | null;
  /** Whether the model has other runs of the car, and of the session. */
  knowsCar: boolean;
  knowsSession: boolean;
  /** Whether the setup has no other run by the car, or in the session. */
  isOnlyOfCar: boolean;
  isOnlyOfSession: boolean;
}

/** Some of many runs by consumption, the lowest first: both ends and those at equal steps of rank between. */
export interface RankedRuns {
  count: number;
  shown: { number: number; normalisedWhPerKm: number }[];
}

export interface SetupStanding {
  ofSetup: RankedRuns;
  /** The model's other setups. */
  others: RankedRuns;
  cars: number;
  sessions: number;
  /** Mean of ln(Wh/km). */
  meanLog: number;
}

export interface KeptSpread {
  /** The latest sessions and their cars. */
  cars: CarDeviation[];
  /** All cars on a loop and their sessions. */
  of: { cars: number; sessions: number };
  screening: ShownScreening;
}

export interface StandingRun extends ModelRun {
  runId: string;
  /** Of the session; orders as time does. */
  day: number;
}

/** A figure of more dots shows no more. */
const MOST_RANKED = 500;
const MOST_SESSIONS = 50;
const MOST_SCREENED = 50;
/** A run that leaves the others no spread at all has a residual without end, which no column holds. */
const MOST_STUDENTISED = 1e6;

/**
 * @param runs of one model in the fit's class
 * @param fit components, and degrees of freedom for the intervals
 * @param logMeans the fit's value of each setup
 */
export function standModel(
  runs: readonly StandingRun[],
  fit: { components: Variances; residualDf: number },
  logMeans: ReadonlyMap<string, number>,
  levels: ScreeningLevels,
): ModelStanding {
  // A young class assumes what it cannot see yet: enough to say where a run is expected, not to call one odd.
  const hasSpread = fit.components.residual > 0;
  const seesSpread = hasSpread && fit.residualDf >= 1;
  const observations = runs.map(observationOf);
  const residuals = hasSpread ? residualsBySetup(runs, fit.components) : undefined;
  const predicted = seesSpread ? shrunkEffects(observations, fit.components) : undefined;
  const bySetup = new Map<string, StandingRun[]>();
  for (const run of runs) {
    const own = bySetup.get(run.setupId);
    if (own === undefined) bySetup.set(run.setupId, [run]);
    else own.push(run);
  }
  const stood: StoodRun[] = [];
  const known = { cars: counted(runs, carOf), sessions: counted(runs, sessionOf) };
  const setups = [...bySetup].map(([setupId, own]) => {
    const screened = residuals?.get(setupId) ?? [];
    const byNumber = new Map(screened.map((residual) => [residual.number, residual]));
    const ofSetup = { cars: counted(own, carOf), sessions: counted(own, sessionOf) };
    for (const run of own) {
      const found = byNumber.get(run.number);
      const seen = seesSpread ? found : undefined;
      stood.push({
        runId: run.runId,
        setupId,
        leaveOneOut: found?.leaveOneOut ?? null,
        sd: found?.sd ?? null,
        studentised: seen === undefined ? null : bounded(seen.studentised),
        p: seen?.p ?? null,
        pHolm: seen?.pHolm ?? null,
        knowsCar: (known.cars.get(carOf(run)) ?? 0) > 1,
        knowsSession: (known.sessions.get(sessionOf(run)) ?? 0) > 1,
        isOnlyOfCar: ofSetup.cars.get(carOf(run)) === 1,
        isOnlyOfSession: ofSetup.sessions.get(sessionOf(run)) === 1,
      });
    }
    const latest = latestSessions(own);
    const logMean = logMeans.get(setupId);
    const cars =
      predicted === undefined || logMean === undefined
        ? []
        : setupShrinkage(own, predicted, logMean, fit.residualDf);
    const shownCars = new Set(latest.map((run) => carOnLoop(run.carId, run.loopId)));
    const ids = new Set(latest.map(({ sessionId }) => sessionId));
    const screening = shownScreening(
      screenSetup(own, seesSpread ? screened : [], levels),
      MOST_SCREENED,
      shownCars,
    );
    return {
      setupId,
      standing: {
        ofSetup: ranked(own),
        others: ranked(runs.filter((run) => run.setupId !== setupId)),
        cars: ofSetup.cars.size,
        sessions: ofSetup.sessions.size,
        meanLog: own.reduce((sum, run) => sum + Math.log(run.normalisedWhPerKm), 0) / own.length,
      },
      spread: {
        cars: cars.flatMap((car) => {
          const sessions = car.sessions.filter(({ sessionId }) => ids.has(sessionId));
          return sessions.length === 0 ? [] : [{ ...car, sessions }];
        }),
        of: {
          cars: cars.length,
          sessions: cars.reduce((sum, car) => sum + car.sessions.length, 0),
        },
        screening:
          screening.by === 'iso5725'
            ? screening
            : {
                ...screening,
                runs: screening.runs.map((run) => ({ ...run, studentised: bounded(run.studentised) })),
              },
      },
    };
  });
  return {
    runs: stood,
    setups,
    effects: hasSpread ? fixedEffects(observations, fit.components) : null,
    all: ranked(runs),
  };
}

/** Numbers and days of the runs of a group, beside their columns. */
export interface RunDates {
  numbers: ArrayLike<number>;
  days: ArrayLike<number>;
}

/** The same of every model of a fitted group, one after the other. */
export function* standModels(
  given: RunColumns,
  { numbers, days }: RunDates,
  fit: GroupFit,
  levels: ScreeningLevels,
): Generator<{ modelId: string; standing: ModelStanding }> {
  const excluded = new Set(fit.excluded.map(({ row }) => row.runId));
  const columns = readyColumns(given, (i) => !excluded.has(given.runIds[i]));
  const logMeans = new Map(fit.estimates.map(({ setup, beta }) => [setup, beta]));
  const placesOf = new Map<string, number[]>();
  for (let i = 0; i < columns.count; i++) {
    if (excluded.has(columns.runIds[i])) continue;
    const modelId = nameAt(columns.model, i) ?? '';
    const places = placesOf.get(modelId);
    if (places === undefined) placesOf.set(modelId, [i]);
    else places.push(i);
  }
  for (const [modelId, places] of placesOf) {
    const runs = places.map((i): StandingRun => {
      const { runId = '', setup, car, loop = null, session, z, u } = rowAt(columns, i);
      return {
        runId,
        number: numbers[i] as number,
        day: days[i] as number,
        setupId: setup,
        carId: car,
        loopId: loop,
        sessionId: session,
        normalisedWhPerKm: Math.exp(z),
        uRunRelative: u,
      };
    });
    yield { modelId, standing: standModel(runs, fit, logMeans, levels) };
  }
}

const carOf = (run: ModelRun) => run.carId;
const sessionOf = (run: ModelRun) => run.sessionId;
const bounded = (value: number) => Math.max(-MOST_STUDENTISED, Math.min(MOST_STUDENTISED, value));

function counted(runs: readonly StandingRun[], keyOf: (run: StandingRun) => string): Map<string, number> {
  const counts = new Map<string, number>();
  for (const run of runs) counts.set(keyOf(run), (counts.get(keyOf(run)) ?? 0) + 1);
  return counts;
}

/** One run of each of the latest sessions. */
function latestSessions(runs: readonly StandingRun[]): StandingRun[] {
  const found = new Map<string, StandingRun>();
  for (const run of [...runs].sort((a, b) => b.day - a.day || b.number - a.number)) {
    if (found.size === MOST_SESSIONS) break;
    if (!found.has(run.sessionId)) found.set(run.sessionId, run);
  }
  return [...found.values()];
}

/** The second from either end too: left without an end, what stays still has its own. */
function ranked(runs: readonly StandingRun[]): RankedRuns {
  const sorted = runs
    .map(({ number, normalisedWhPerKm }) => ({ number, normalisedWhPerKm }))
    .sort((a, b) => a.normalisedWhPerKm - b.normalisedWhPerKm);
  const last = sorted.length - 1;
  const step = last / (MOST_RANKED - 1);
  const isShown = (i: number) => i <= 1 || i >= last - 1 || i === Math.round(Math.round(i / step) * step);
  return { count: sorted.length, shown: step <= 1 ? sorted : sorted.filter((_, i) => isShown(i)) };
}
