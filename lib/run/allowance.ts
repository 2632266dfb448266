/**
 * How many runs somebody may send in within a day. Drafts are free, a revision that a reviewer asked for is free, and an
 * import counts as one. The numbers are our own judgement: a day on the loop makes six to twelve runs, and nobody has to
 * read a hundred runs of somebody of whom none was approved yet.
 */
const AT_FIRST = 12;
const PER_APPROVED_RUN = 1;
const AT_MOST = 200;

export const ALLOWANCE_WINDOW_S = 24 * 3600;

export function dailyAllowance(approvedRuns: number): number {
  return Math.min(AT_MOST, AT_FIRST + PER_APPROVED_RUN * approvedRuns);
}

/**
 * When the next run may be sent: undefined at once, else the moment at which the oldest of those that fill the allowance
 * is a day old.
 *
 * @param sentAt what was sent within the last day, in any order, an import once
 */
export function nextSubmissionAt(sentAt: readonly Date[], approvedRuns: number): Date | undefined {
  const allowed = dailyAllowance(approvedRuns);
  const newestFirst = sentAt.map((at) => at.getTime()).sort((a, b) => b - a);
  const oldest = newestFirst[allowed - 1];
  return oldest === undefined ? undefined : new Date(oldest + 1000 * ALLOWANCE_WINDOW_S);
}
