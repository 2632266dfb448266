import { percentOf } from '@/lib/stats/orientedContrast';
import type { DayDifference } from '@/lib/study/dayDifference';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';
import { percentText } from './differenceText';

/** What one day says by itself: how far the two lie apart, and whether such runs repeat to that anyway. */
export function repeatText(
  { runs: [setup, baseline], difference, limit, isBeyond }: DayDifference,
  display: Display,
): string {
  const driven =
    setup === baseline
      ? `${setup} ${setup === 1 ? 'run' : 'runs'} of each`
      : `${setup} against ${baseline} of the baseline`;
  const apart = `${driven}, ${percentText(percentOf(difference), display)}`;
  const repeat = `what such runs repeat to (${showNumber(percentOf(limit), 1, display)} %)`;
  return isBeyond
    ? `${apart}: beyond ${repeat}. Chance alone goes so far less than one time in twenty.`
    : `${apart}: within ${repeat}. Chance alone may do that.`;
}
