import type { SetupDifference } from '@/lib/registry/comparisons/compare';
import { placeForInterval } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { changeWords, percentEndsIn, percentIn, senseOf } from '@/lib/units/sense';
import { showNumber } from '@/lib/units/show';

/**
 * Differences in words. They come as per cent of the baseline's consumption and are said of what the reader's unit
 * measures: in a unit of distance per energy sign and ends turn (lib/units/sense.ts).
 */

type StatedDifference = Pick<SetupDifference, 'percent' | 'simultaneous' | 'pointwise'>;

/** Without an interval of its own a difference is said to tenths. */
const PLAIN_PLACE = 1;

/** The place of a difference: that of the interval that is stated with it. */
export function differencePlace({ simultaneous, pointwise }: StatedDifference, display: Display): number {
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

/** "−3.1 % (−5.0 to −1.2)" */
export function differenceText(difference: StatedDifference, display: Display): string {
  const { percent, simultaneous, pointwise } = difference;
  if (percent === null) return 'not compared';
  const ends = simultaneous ?? pointwise;
  const place = differencePlace(difference, display);
  const text = percentText(percent, display, place);
  return ends === null ? text : `${text} (${endsText(ends, display, place)})`;
}

/** The word for the strength of the evidence, and why it is not a stronger one. */
export function resultText({ word, restsOnOne }: Pick<SetupDifference, 'word' | 'restsOnOne'>): string {
  if (word === null) return 'no interval';
  return restsOnOne ? `${word}, rests on one tester` : word;
}

/** One sentence that a reader may quote. */
export function verdict(difference: SetupDifference, baselineName: string, display: Display): string {
  const { setup, percent, simultaneous, pointwise, word } = difference;
  const name = `“${setup.name}”`;
  if (percent === null) {
    return `${name} against “${baselineName}”: no difference can be stated. ${difference.refusal ?? ''}`.trim();
  }
  const place = differencePlace(difference, display);
  if (simultaneous === null) {
    return `${name} against “${baselineName}”: ${percentText(percent, display, place)}, but without an interval. ${difference.refusal ?? ''}`.trim();
  }
  const unit = display.consumption;
  const { verb, participle } = senseOf(unit);
  const interval = `95 % interval ${endsText(simultaneous, display, place)} %, held for all pairs of the class at once`;
  const size = `${showNumber(Math.abs(percentIn(unit, percent)), place, display)} %`;
  const change = `${changeWords(percent, size, unit)} than “${baselineName}”`;
  if (difference.restsOnOne) {
    const uncertain =
      word === 'probable' ? `${name} probably ${verb}` : `The runs lean toward ${name} ${participle}`;
    return `${uncertain} ${change} (${interval}). It would be settled, but rests on one tester.`;
  }
  switch (word) {
    case 'settled':
      return `${name} ${verb} ${change} (${interval}).`;
    case 'probable':
      return `${name} probably ${verb} ${change}: it holds among the pairs of this model, not among all of the class (${interval}).`;
    case 'leaning':
      return `The runs lean toward ${name} ${participle} ${change}: it holds for this pair taken alone${pointwise === null ? '' : ` (95 % interval ${endsText(pointwise, display, place)} %)`}, not among all that were compared (${interval}).`;
    default:
      return `${name} and “${baselineName}” cannot be told apart with these data: ${percentText(percent, display, place)} (${interval}).`;
  }
}
