import type { ForestRow } from '@/app/ui/figures/kinds/forest';
import { resultText } from '@/lib/answers/answer';
import { differenceText } from '@/lib/answers/differenceText';
import type { SetupDifference } from '@/lib/registry/comparisons/compare';
import type { Display } from '@/lib/units/display';
import { percentIn } from '@/lib/units/sense';
import { drawnIntervals } from '../differenceIntervals';

type DrawnDifference = Pick<
  SetupDifference,
  'percent' | 'pointwise' | 'ofModel' | 'simultaneous' | 'word' | 'restsOnOne' | 'isDrivenByOne'
> & { setup: { setupId: string } };

/** The differences that have an interval, as rows of a forest; each knows its row in the table, which has them all. */
export function forestRows<Difference extends DrawnDifference>(
  differences: readonly Difference[],
  labelOf: (difference: Difference) => string,
  display: Display,
) {
  const unit = display.consumption;
  return differences.flatMap((difference, row) => {
    const { setup, percent, word } = difference;
    const { inner, strokes, outer } = drawnIntervals(difference, unit);
    if (percent === null || outer === undefined) return [];
    return [
      {
        key: setup.setupId,
        label: labelOf(difference),
        estimate: percentIn(unit, percent),
        ...(inner === undefined ? {} : { pointwise: inner }),
        ...(strokes === undefined ? {} : { strokes }),
        simultaneous: outer,
        text: differenceText(difference, display),
        note: resultText(difference),
        muted: word === 'undecided',
        row,
      } satisfies ForestRow,
    ];
  });
}
