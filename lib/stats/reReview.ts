import { seededRandom } from '@/lib/numerics/seededRandom';

/** The share of decisions that another reviewer reads anew. Common practice, no source. */
export const RE_REVIEW_SHARE = 0.1;
/** Below so many pairs an agreement is not published as a number. Common practice, no source. */
export const LEAST_PAIRS = 30;

export const DECISION_KINDS = ['approve', 'askChanges', 'reject'] as const;
export type DecidedKind = (typeof DECISION_KINDS)[number];

/**
 * Whether a decision is drawn. The draw is seeded by the random end of the decision's own id, which is given when it is
 * written: nobody can know it before they decide, and anybody can draw again from the record.
 */
export function isDrawn(decisionId: string): boolean {
  return seededRandom(Number.parseInt(decisionId.slice(-8), 16)).nextUniform() < RE_REVIEW_SHARE;
}

/** How often the first reader's kind (row) met the second one's (column). */
export function agreementTable(
  pairs: readonly { first: DecidedKind; second: DecidedKind; count: number }[],
): number[][] {
  return DECISION_KINDS.map((first) =>
    DECISION_KINDS.map((second) =>
      pairs
        .filter((pair) => pair.first === first && pair.second === second)
        .reduce((sum, { count }) => sum + count, 0),
    ),
  );
}
