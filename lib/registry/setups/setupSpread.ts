import { worldKey } from '@/lib/run/world';
import type { KeptSpread } from '@/lib/stats/modelStanding';
import { keptSpreadOf } from '@/lib/store/fitStandings';
import { currentFit } from '@/lib/store/fits';
import type { Registry } from '../registry';
import type { SetupSession, ShownCar } from './setupSessions';

/** How the chosen class's cars, days and runs lie about the setup's estimate. */
export interface SetupSpread extends KeptSpread {
  /** Names of the cars on a loop that the screening lists. */
  named: ShownCar[];
}

/** There is a fit, but it says nothing of single cars and days: the next one will. */
export const SPREAD_DUE = 'due';

/** What the published fit of the class kept of the setup; undefined where it kept nothing that can be read. */
export async function readKeptSpread(
  registry: Registry,
  setup: { id: string; world: string },
  cruiseClassKey: string,
): Promise<KeptSpread | undefined> {
  const fit = await currentFit(registry.db, { cruiseClassKey, world: worldKey(setup.world) });
  return fit === null ? undefined : ((await keptSpreadOf(registry.db, fit.id, setup.id)) ?? undefined);
}

/** The part of it whose sessions the page draws; a car's numbers are those of all its runs. */
export function shownSpread(
  kept: KeptSpread,
  sessions: readonly SetupSession[],
  cars: ReadonlyMap<string, ShownCar>,
): SetupSpread {
  const shown = new Set(sessions.map(({ sessionId }) => sessionId));
  return {
    ...kept,
    cars: kept.cars.flatMap((car) => {
      const own = car.sessions.filter(({ sessionId }) => shown.has(sessionId));
      return own.length === 0 ? [] : [{ ...car, sessions: own }];
    }),
    named: carKeysOf(kept).flatMap((key) => cars.get(key) ?? []),
  };
}

/** The cars on a loop that the screening names. */
export function carKeysOf({ screening }: KeptSpread): string[] {
  if (screening.by !== 'iso5725') return [];
  return [...new Set([...screening.cars, ...screening.extremes].map(({ key }) => key))];
}
