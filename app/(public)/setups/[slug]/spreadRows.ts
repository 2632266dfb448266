import { percent } from '@/app/runDossier/numbers';
import type { SetupSession } from '@/lib/registry/setups/setupSessions';
import type { BelievedEffect, CarDeviation } from '@/lib/stats/setupShrinkage';
import { carWords, dayWords } from './carWords';

/** A car over all its days, or one of its days, ready to draw and to list. */
export interface SpreadRow {
  key: string;
  car: string;
  /** '' for the car over all its days. */
  day: string;
  runs: number;
  meanWhPerKm: number;
  fromEstimate: number;
  believedWhPerKm: number;
  effect: string;
  interval: string;
  kept: string;
}

/** Cars by name, each followed by its days where it has several. */
export function spreadRows(cars: readonly CarDeviation[], sessions: readonly SetupSession[]): SpreadRow[] {
  return cars
    .map((car) => ({ ...car, label: carWords(sessions, car.key) }))
    .sort((a, b) => a.label.localeCompare(b.label))
    .flatMap((car) => [
      {
        ...car,
        car: car.label,
        day: '',
        effect: percent(car.effect, 1, true),
        interval: intervalWords(car),
        kept: percent(car.kept, 0),
      },
      ...car.sessions
        .map((session) => ({
          ...session,
          key: `${car.key} ${session.sessionId}`,
          car: car.label,
          day: dayWords(sessions, session.sessionId),
          effect: percent(session.effect, 1, true),
          interval: intervalWords(session),
          kept: '–',
        }))
        .sort((a, b) => a.day.localeCompare(b.day)),
    ]);
}

/** A component of nothing leaves no room to differ, which is not the same as knowing that nothing differs. */
function intervalWords({ low, high }: BelievedEffect): string {
  if (high - low < 1e-9) return 'no variation in the fit';
  return `${percent(low, 1, true)} to ${percent(high, 1, true)}`;
}
