import { ALTERNATIONS, COMPARISONS, type Comparison } from './comparisons';
import { RandomStream } from './randomStream';
import type { DemoCar, DemoLoop } from './types';
import { isFitForSession, type WeatherSource } from './weather';

export const FIRST_DAY_MS = Date.UTC(2025, 8, 1);
export const LAST_DAY_MS = Date.UTC(2026, 9, 31);
const DAY_MS = 86_400_000;

/** One car on one loop on one day in one speed class: the setups in the order in which they were driven. */
export interface PlannedSession {
  key: string;
  car: DemoCar;
  loop: DemoLoop;
  dateMs: number;
  cruiseClassKey: string;
  setupKeys: readonly string[];
  firstStartHour: number;
  weatherSource: WeatherSource;
}

/** The testers' calendars: no tester drives two sessions on one day, and most prefer week-ends. */
export function planSessions(
  seed: number,
  cars: readonly DemoCar[],
  loops: readonly DemoLoop[],
  comparisons: readonly Comparison[] = COMPARISONS,
): PlannedSession[] {
  const takenDays = new Map<string, Set<number>>();
  const sessions: PlannedSession[] = [];
  for (const comparison of comparisons) {
    const seenCars = new Map<number, number>();
    for (const carNumber of comparison.cars) {
      const turn = (seenCars.get(carNumber) ?? 0) + 1;
      seenCars.set(carNumber, turn);
      const car = cars.find((candidate) => candidate.key === `${comparison.modelKey}-${carNumber}`);
      if (car === undefined) throw new Error(`no car ${comparison.modelKey}-${carNumber}`);
      const label = [comparison.cruiseClassKey, ...comparison.setups, car.key, turn].join(' ');
      const stream = new RandomStream(seed, `session ${label}`);
      const loopKey = stream.pick(comparison.loops);
      const loop = loops.find((candidate) => candidate.key === loopKey);
      if (loop === undefined) throw new Error(`no loop ${loopKey}`);
      const taken = takenDays.get(car.ownerKey) ?? new Set<number>();
      takenDays.set(car.ownerKey, taken);
      const dateMs = pickDay(seed, stream, loop, taken);
      taken.add(dateMs);
      const order = comparison.order ?? (comparison.setups.length === 1 ? [0, 0] : stream.pick(ALTERNATIONS));
      sessions.push({
        key: `${car.key} ${loop.key} ${new Date(dateMs).toISOString().slice(0, 10)}`,
        car,
        loop,
        dateMs,
        cruiseClassKey: comparison.cruiseClassKey,
        setupKeys: order.map((index) => `${comparison.modelKey}/${comparison.setups[index] ?? 'baseline'}`),
        firstStartHour: stream.uniform(8.2, 10.4),
        weatherSource: stream.pick(['stationReport', 'stationReport', 'ownInstrument', 'forecast'] as const),
      });
    }
  }
  return sessions.sort((a, b) => a.dateMs - b.dateMs || (a.key < b.key ? -1 : 1));
}

function pickDay(seed: number, stream: RandomStream, loop: DemoLoop, taken: ReadonlySet<number>): number {
  const days = Math.round((LAST_DAY_MS - FIRST_DAY_MS) / DAY_MS);
  for (let attempt = 0; attempt < 10_000; attempt++) {
    const dateMs = FIRST_DAY_MS + stream.integer(0, days) * DAY_MS;
    const weekday = new Date(dateMs).getUTCDay();
    const isWeekend = weekday === 0 || weekday === 6;
    if (taken.has(dateMs) || !(isWeekend || stream.chance(0.25))) continue;
    if (isFitForSession(seed, loop, dateMs)) return dateMs;
  }
  throw new Error('no fit day is left for a session');
}
