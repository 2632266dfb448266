import { earnedInterval, type StatedDifference } from '@/lib/stats/statedDifference';
import { placeForInterval } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { percentEndsIn, percentIn } from '@/lib/units/sense';
import { showNumber } from '@/lib/units/show';

/**
 * Differences in figures. They come as per cent of the baseline's consumption and are said of what the reader's unit
 * measures: in a unit of distance per energy sign and ends turn (lib/units/sense.ts).
 */

export type DifferenceNumbers = Pick<StatedDifference, 'percent' | 'simultaneous' | 'pointwise'>;

/** Without an interval of its own a difference is said to tenths. */
const PLAIN_PLACE = 1;

/** The place of a difference: that of the interval that is stated with it. */
export function differencePlace({ simultaneous, pointwise }: DifferenceNumbers, display: Display): number {
  const ends = simultaneous ?? pointwise;
  return ends === null ? PLAIN_PLACE : placeForInterval(...percentEndsIn(display.consumption, ends));
}

/** "−3.1", where the unit stands over it. */
export function signedText(percent: number, display: Display, decimals = PLAIN_PLACE): string {
  return showNumber(percentIn(display.consumption, percent), decimals, display, { signed: true });
}

/** "−3.1 %", with a sign, because a difference has a direction. */
export function percentText(percent: number, display: Display, decimals = PLAIN_PLACE): string {
  return `${signedText(percent, display, decimals)} %`;
}

export function endsText(ends: readonly [number, number], display: Display, decimals = PLAIN_PLACE): string {
  const [low, high] = percentEndsIn(display.consumption, ends).map((end) =>
    showNumber(end, decimals, display, { signed: true }),
  );
  return `${low} to ${high}`;
}

/** "−3.1 % (−5.0 to −1.2)", with the interval that earns its word. */
export function differenceText(
  difference: DifferenceNumbers & Pick<StatedDifference, 'word' | 'ofModel'>,
  display: Display,
): string {
  const { percent } = difference;
  if (percent === null) return 'not compared';
  const ends = earnedInterval(difference);
  const place = differencePlace(difference, display);
  const text = percentText(percent, display, place);
  return ends === null ? text : `${text} (${endsText(ends, display, place)})`;
}
