import { percent } from '@/app/runDossier/numbers';
import type { SetupSession } from '@/lib/registry/setups/setupSessions';
import type { BelievedEffect, CarDeviation } from '@/lib/stats/setupShrinkage';
import { placeForInterval } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';
import { percentEndsIn, percentIn } from '@/lib/units/sense';
import { showNumber } from '@/lib/units/show';
import { carWords, dayWords } from './carWords';

/** A car over all its days, or one of its days, ready to draw and to list. */
export interface SpreadRow {
  key: string;
  car: string;
  /** '' for the car over all its days. */
  day: string;
  runs: number;
  meanWhPerKm: number;
  fromEstimate: string;
  believedWhPerKm: number;
  /** The 95 % interval of what is believed; null where there is no room to differ. */
  ends: readonly [number, number] | null;
  effect: string;
  interval: string;
  kept: string;
}

/** Cars by name, each followed by its days where it has several. */
export function spreadRows(
  cars: readonly CarDeviation[],
  sessions: readonly SetupSession[],
  display: Display,
): SpreadRow[] {
  return cars
    .map((car) => ({ ...car, label: carWords(sessions, car.key) }))
    .sort((a, b) => a.label.localeCompare(b.label))
    .flatMap((car) => [
      {
        ...car,
        car: car.label,
        day: '',
        ...believedWords(car, display),
        kept: percent(car.kept, 0, display),
      },
      ...car.sessions
        .map(({ sessionId, ...session }, place) => ({
          ...session,
          key: `${car.key} ${place}`,
          car: car.label,
          day: dayWords(sessions, sessionId),
          ...believedWords(session, display),
          kept: '–',
        }))
        .sort((a, b) => a.day.localeCompare(b.day)),
    ]);
}

/**
 * A deviation and what is believed of it, both to the place of the interval and said of what the unit measures.
 * A component of nothing leaves no room to differ, which is not the same as knowing that nothing differs.
 */
function believedWords(
  believed: BelievedEffect & { fromEstimate: number; believedWhPerKm: number },
  display: Display,
) {
  const unit = display.consumption;
  const isKnown = believed.high - believed.low >= 1e-9;
  const ends = percentEndsIn(unit, [100 * believed.low, 100 * believed.high]);
  const place = isKnown ? placeForInterval(...ends) : 1;
  const text = (percent: number) => `${showNumber(percent, place, display, { signed: true })}${THIN_SPACE}%`;
  // The interval is of the car's or the day's own share, which is what the believed number was moved by last.
  const before = believed.believedWhPerKm / (1 + believed.effect);
  return {
    ends: isKnown ? ([before * (1 + believed.low), before * (1 + believed.high)] as const) : null,
    fromEstimate: text(percentIn(unit, 100 * believed.fromEstimate)),
    effect: text(percentIn(unit, 100 * believed.effect)),
    interval: isKnown ? `${text(ends[0])} to ${text(ends[1])}` : 'no difference seen',
  };
}
