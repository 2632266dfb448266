import type { LoopView } from '@/lib/registry/loops/loop';
import type { Display } from '@/lib/units/display';
import { showPercentEstimate, showQuantity } from '@/lib/units/show';
import { LEAST_SEEN } from './LoopFacts';

/** How long it is, and how well one drive of it repeats another. */
export function loopSentence(
  { lengthM, repeatability, counts }: Pick<LoopView, 'lengthM' | 'repeatability' | 'counts'>,
  display: Display,
): string {
  const length = showQuantity(lengthM, 'distance', display);
  const driven = counts.runs === 0 ? 'nobody’s runs on it are approved yet' : undefined;
  if (driven !== undefined) return `${length} out and back; ${driven}.`;
  if (repeatability === null || repeatability.sr < LEAST_SEEN) {
    return `${length} out and back; how well a drive of it repeats another cannot be seen yet.`;
  }
  const { limit, low, high, sr } = repeatability;
  const share = limit / sr;
  const shown = showPercentEstimate(
    { percent: 100 * limit, low: 100 * low * share, high: 100 * high * share },
    display,
    { signed: false },
  );
  return `${length} out and back; two drives of the same car on one day differ by less than ${shown.value} % in 19 of 20 cases (${shown.interval}).`;
}
