import { worldKey } from '@/lib/run/world';
import { type Screening, screenSetup } from '@/lib/stats/screening';
import { type CarDeviation, setupShrinkage } from '@/lib/stats/setupShrinkage';
import { type ShownScreening, shownScreening } from '@/lib/stats/shownScreening';
import { modelResults } from '@/lib/store/countedRuns';
import { currentFit } from '@/lib/store/fits';
import { shownLabel } from '../counted/countedLabel';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import type { SetupSessions, ShownCar } from './setupSessions';

/** How the chosen class's cars, days and runs lie about the setup's estimate. */
export interface SetupSpread {
  /** Of the sessions shown; empty where the published fit has no spread to weigh deviations against. */
  cars: CarDeviation[];
  /** Cars on a loop and their sessions, of which `cars` shows the latest. */
  of: { cars: number; sessions: number };
  screening: ShownScreening;
  /** Names of the cars on a loop that the screening lists. */
  named: ShownCar[];
}

const MOST_SCREENED = 50;

/** From every run of the model in the class; the page gets what it lists. */
export async function readSetupSpread(
  registry: Registry,
  setup: { id: string; world: string; model: { id: string } },
  chosen: { classKey: string; estimateWhPerKm: number },
  { sessions, cars: allCars }: Pick<SetupSessions, 'sessions' | 'cars'>,
): Promise<SetupSpread> {
  const group = { cruiseClassKey: chosen.classKey, world: worldKey(setup.world) };
  const [fit, protocol] = await Promise.all([currentFit(registry.db, group), activeProtocol(registry)]);
  // under the version of the fit, which is the one in effect but for the time that a new one takes to be computed
  const methodVersion = fit?.methodVersion ?? (await shownLabel(registry.db, group.world));
  const runs = await modelResults(registry.db, { ...group, modelId: setup.model.id }, methodVersion);
  const summary = fit?.summary;
  const components = summary && summary.residualDf >= 1 ? summary.components : undefined;
  const logMean = Math.log(chosen.estimateWhPerKm);
  const deviations = summary ? setupShrinkage(runs, { setupId: setup.id, logMean }, summary) : [];
  const latest = new Set(sessions.map((session) => session.carKey));
  const screening = shownScreening(
    screenSetup(runs, setup.id, components, protocol.parameters.screening),
    MOST_SCREENED,
    latest,
  );
  return {
    cars: ofSessions(deviations, new Set(sessions.map((session) => session.sessionId))),
    of: {
      cars: deviations.length,
      sessions: deviations.reduce((sum, car) => sum + car.sessions.length, 0),
    },
    screening,
    named: keysOf(screening).flatMap((key) => allCars.get(key) ?? []),
  };
}

/** A car's numbers are those of all its runs; of its days those that are shown. */
function ofSessions(cars: readonly CarDeviation[], shown: ReadonlySet<string>): CarDeviation[] {
  return cars.flatMap((car) => {
    const sessions = car.sessions.filter(({ sessionId }) => shown.has(sessionId));
    return sessions.length === 0 ? [] : [{ ...car, sessions }];
  });
}

function keysOf(screening: Screening): string[] {
  if (screening.by !== 'iso5725') return [];
  return [...new Set([...screening.cars, ...screening.extremes].map(({ key }) => key))];
}
