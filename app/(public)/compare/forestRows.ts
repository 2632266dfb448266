import type { ForestRow } from '@/app/ui/figures/kinds/forest';
import { resultText } from '@/lib/answers/answer';
import { differenceText } from '@/lib/answers/differenceText';
import type { SetupDifference } from '@/lib/registry/comparisons/compare';
import type { Display } from '@/lib/units/display';
import { percentEndsIn, percentIn } from '@/lib/units/sense';

type DrawnDifference = Pick<
  SetupDifference,
  'percent' | 'pointwise' | 'ofModel' | 'simultaneous' | 'word' | 'restsOnOne'
> & { setup: { setupId: string } };

/** The differences that have an interval, as rows of a forest; each knows its row in the table, which has them all. */
export function forestRows<Difference extends DrawnDifference>(
  differences: readonly Difference[],
  labelOf: (difference: Difference) => string,
  display: Display,
) {
  const unit = display.consumption;
  return differences.flatMap((difference, row) => {
    const { setup, percent, pointwise, simultaneous, word } = difference;
    if (percent === null || simultaneous === null) return [];
    return [
      {
        key: setup.setupId,
        label: labelOf(difference),
        estimate: percentIn(unit, percent),
        ...(pointwise === null ? {} : { pointwise: percentEndsIn(unit, pointwise) }),
        simultaneous: percentEndsIn(unit, simultaneous),
        text: differenceText(difference, display),
        note: resultText(difference),
        muted: word === 'undecided',
        row,
      } satisfies ForestRow,
    ];
  });
}
