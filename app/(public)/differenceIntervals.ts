import type { TwinCell, TwinTable } from '@/app/ui/figures/description';
import { endsText } from '@/lib/answers/differenceText';
import { earnedFamily, type IntervalFamily, type StatedDifference } from '@/lib/stats/statedDifference';
import type { Display } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';
import { percentEndsIn, senseOf } from '@/lib/units/sense';
import type { UnitCode } from '@/lib/units/unit';
import { capital } from './factors/words';

/**
 * The three 95 % intervals of a difference as every figure draws, names and lists them. What is printed beside a
 * difference is the interval that earns its word, and it is always one of those that are drawn.
 */

type Intervals = Pick<StatedDifference, 'word' | IntervalFamily>;

/** What each interval holds for, within a sentence; null where none of the rows has one of a model. */
export interface IntervalNames {
  pointwise: string;
  ofModel: string | null;
  simultaneous: string;
}

export const OF_RANKING: IntervalNames = {
  pointwise: 'this difference alone',
  ofModel: 'all of its model at once',
  simultaneous: 'all of the ranking at once',
};

/**
 * The ends to draw, in the reader's unit: thick for the difference alone, thin for all at once and, where the interval of
 * the model is what is printed, strokes on the thin line at its ends.
 */
export function drawnIntervals(difference: Intervals, unit: UnitCode) {
  const drawn = (family: IntervalFamily) => {
    const ends = difference[family];
    return ends === null ? undefined : percentEndsIn(unit, ends);
  };
  return {
    inner: drawn('pointwise'),
    strokes: earnedFamily(difference) === 'ofModel' ? drawn('ofModel') : undefined,
    outer: drawn('simultaneous'),
  };
}

const LEVEL = `95${THIN_SPACE}%`;

/** What the marks are and where each is what is printed, for a legend: files carry it, and no other words. */
export function markLabels({ pointwise, ofModel, simultaneous }: IntervalNames) {
  return {
    markLabel: `${pointwise}, ${LEVEL}, printed where leaning or undecided`,
    ...(ofModel === null
      ? {}
      : { strokesLabel: `strokes on the thin bar: ${ofModel}, ${LEVEL}, printed where probable` }),
    outerLabel: `${simultaneous}, ${LEVEL}, printed where settled`,
  };
}

/** Which way is less, and which of the intervals is printed: what everyone needs, in a sentence each. */
export function differenceReading(
  { pointwise, ofModel, simultaneous }: IntervalNames,
  display: Display,
): string {
  const model = ofModel === null ? '' : `, for ${ofModel}`;
  return `${senseOf(display.consumption).sideOfZero}; the printed interval is the one that earns the word: for ${pointwise}${model} or for ${simultaneous}.`;
}

/** All of them for the table and the CSV file, and which one is printed. */
export function intervalColumns(names: IntervalNames): TwinTable['columns'] {
  return [
    ...familiesOf(names).map((family) => ({ header: `${capital(names[family] ?? '')}, 95 %`, unit: '%' })),
    { header: 'Printed interval', align: 'start' as const },
  ];
}

export function intervalCells(
  difference: Intervals | null,
  names: IntervalNames,
  display: Display,
  place: number,
): TwinCell[] {
  const printed = difference === null ? null : earnedFamily(difference);
  return [
    ...familiesOf(names).map((family) => {
      const ends = difference?.[family] ?? null;
      return ends === null ? '–' : endsText(ends, display, place);
    }),
    printed === null ? '–' : (names[printed] ?? '–'),
  ];
}

function familiesOf(names: IntervalNames): IntervalFamily[] {
  return names.ofModel === null ? ['pointwise', 'simultaneous'] : ['pointwise', 'ofModel', 'simultaneous'];
}
