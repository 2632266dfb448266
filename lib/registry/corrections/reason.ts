import { z } from 'zod';
import { Conflict } from '@/lib/run/errors';
import { isExclusionViolation } from '@/lib/store/database';

/** Why something is corrected, for the reviewer and beside every run that it touches. */
export const correctionReason = z
  .string()
  .trim()
  .min(10, 'The reason is too short. | A reviewer decides by it. | Say what was wrong and how you know.')
  .max(2000, 'The reason is too long. | A reviewer decides by it. | Use at most 2000 characters.');

/** Two corrections of one thing proposed in the same moment: the database holds that one of them is. */
export function oneAtATime(error: unknown): void {
  if (isExclusionViolation(error))
    throw new Conflict('A correction of this was proposed a moment ago. Wait for the decision on it.');
}
