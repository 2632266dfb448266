import { setupAtStart, setupInText } from '@/lib/run/setupTitle';
import { placeForInterval } from '@/lib/units/digits';
import { type Display, unitFor } from '@/lib/units/display';
import { formatDuration } from '@/lib/units/format';
import { senseOf } from '@/lib/units/sense';
import { showEstimate, showNumber, showStated } from '@/lib/units/show';
import { fromCanonical, UNITS } from '@/lib/units/unit';
import { placeThatShows } from './answer';

/** A value with the ends of its 95 % interval. */
interface Ranged {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

const whole = (share: number, display: Display) => showNumber(100 * share, 0, display);

/** What every answer hangs on most: without them its number would be taken for one that holds always. */
interface Asked {
  readonly speedMps: number;
  readonly airC: number;
}

const steadily = ({ speedMps, airC }: Asked, display: Display) =>
  `at a steady ${showStated(speedMps, 'speed', display)} and ${showStated(airC, 'temperature', display)}`;

/** "“Low ride height” goes 287 km from 80 to 10 % of charge at a steady 110 km/h and 0 °C (255 to 322)." */
export function rangeSentence(
  { setup, rangeM, from, to, ...asked }: Asked & { setup: string; rangeM: Ranged; from: number; to: number },
  display: Display,
): string {
  const shown = showEstimate(rangeM, 'distance', display);
  return `${setupAtStart(setup)} goes ${shown.value} ${shown.symbol} from ${whole(from, display)} to ${whole(to, display)} % of charge ${steadily(asked, display)} (${shown.interval}).`;
}

/** The same where nobody knows the battery: what it draws. */
export function drawnSentence(
  { setup, whPerKm, ...asked }: Asked & { setup: string; whPerKm: Ranged },
  display: Display,
): string {
  const shown = showEstimate(whPerKm, 'consumption', display);
  const { verb } = senseOf(display.consumption);
  return `${setupAtStart(setup)} ${verb} ${shown.value} ${shown.symbol} ${steadily(asked, display)} (${shown.interval}).`;
}

/** "300 km take 3:24 h (3:10 to 3:46), 0:24 h of it at one charger." */
export function tripSentence(
  trip: { lengthM: number; totalS: Ranged; chargingS: number; stops: number },
  display: Display,
): string {
  const { totalS, stops } = trip;
  const length = showStated(trip.lengthM, 'distance', display);
  const chargers = stops === 1 ? 'one charger' : `${stops} chargers`;
  const of =
    stops === 0 ? 'without a stop' : `${formatDuration(trip.chargingS)} h of it charging, at ${chargers}`;
  return `A trip of ${length} takes ${hoursText(totalS)}, ${of}.`;
}

/**
 * "3:24" and "3:10 to 3:46", hours and minutes; no interval where its ends are the same to the minute, as those of a
 * drive without a stop, which takes as long as its speed says.
 */
export function durationText(durationS: Ranged): { value: string; interval?: string } {
  const value = formatDuration(durationS.value);
  const [low, high] = [durationS.low, durationS.high].map((s) => formatDuration(s));
  return low === high ? { value } : { value, interval: `${low} to ${high}` };
}

/** "3:24 (3:10 to 3:46)" */
export function bracketedDuration(durationS: Ranged): string {
  const { value, interval } = durationText(durationS);
  return interval === undefined ? value : `${value} (${interval})`;
}

/** "3:24 h (3:10 to 3:46)" */
function hoursText(durationS: Ranged): string {
  const { value, interval } = durationText(durationS);
  return `${value} h${interval === undefined ? '' : ` (${interval})`}`;
}

/** What two setups are held against each other in. */
export type Saving = 'rangeM' | 'totalS' | 'cost';

const SAVINGS: Record<Saving, { verb: string; on: string; less: string; more: string }> = {
  rangeM: { verb: 'goes', on: 'on this charge', less: 'less far', more: 'further' },
  totalS: { verb: 'takes', on: 'on this trip', less: 'less', more: 'more' },
  cost: { verb: 'costs', on: 'on this trip', less: 'less', more: 'more' },
};

/**
 * "“Low ride height” goes 9 km further on this charge than the car as delivered (3 to 15)." A direction is said only where the interval leaves no
 * difference out.
 *
 * @param difference the setup's less the other's, canonical; a cost in whatever the reader pays
 */
export function savingSentence(
  of: Saving,
  difference: Ranged,
  { setup, against }: { setup: string; against: string },
  display: Display,
): string {
  const { verb, on, less, more } = SAVINGS[of];
  const unit = of === 'rangeM' ? unitFor('distance', display) : of === 'totalS' ? 'min' : undefined;
  const symbol = unit === undefined ? '' : ` ${UNITS[unit].symbol}`;
  const shown = (canonical: number) => (unit === undefined ? canonical : fromCanonical(canonical, unit));
  const { value, low, high } = difference;
  const place = placeForInterval(shown(low), shown(high));
  const size = (canonical: number, decimals = place) =>
    showNumber(Math.abs(shown(canonical)), decimals, display);
  const way = (canonical: number) => (canonical < 0 ? less : more);
  if (!(low > 0 || high < 0)) {
    const end = (canonical: number) => `${size(canonical)}${symbol} ${way(canonical)}`;
    return `${setupAtStart(setup)} and ${setupInText(against)} cannot be told apart ${on}: anything from ${end(low)} to ${end(high)}.`;
  }
  const [least, most] = [Math.abs(low), Math.abs(high)].sort((a, b) => a - b) as [number, number];
  const decimals = placeThatShows(shown(least), place);
  return `${setupAtStart(setup)} ${verb} ${size(value, decimals)}${symbol} ${way(value)} ${on} than ${setupInText(against)} (${size(least, decimals)} to ${size(most, decimals)}).`;
}

/** The speed of those driven that gets there soonest, and how sure that is. */
export function soonestSentence(
  best: { speed: string; totalS: Ranged },
  [slowest, fastest]: readonly [string, string],
): string {
  const found = `${best.speed} gets there soonest of the speeds driven, in ${hoursText(best.totalS)}`;
  return slowest === fastest
    ? `${found}.`
    : `${found}; it could as well be any from ${slowest} to ${fastest}.`;
}

/** Shares of what an answer may be off by, in everyday words; the bounds are common sense, no source. */
const SHARES: readonly (readonly [least: number, words: string])[] = [
  [0.85, 'nearly all of it'],
  [0.6, 'most of it'],
  [0.42, 'about half'],
  [0.28, 'about a third'],
  [0.18, 'about a fifth'],
  [0.07, 'about a tenth'],
  [0.015, 'a little'],
];

/** "about half": a part of the variance in words. */
export function shareWords(share: number): string {
  return SHARES.find(([least]) => share >= least)?.[1] ?? 'next to nothing';
}
