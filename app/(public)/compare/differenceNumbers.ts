import type { AnswerNumbers } from '@/lib/answers/answer';
import type { SetupDifference } from '@/lib/registry/comparisons/compare';

/** What a sentence about a comparison may say. */
export function differenceNumbers(difference: SetupDifference): AnswerNumbers {
  return { ...difference, sideBySide: difference.pairs };
}
