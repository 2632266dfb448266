import type { StoredRoadLoad } from './stored';

/** What was learned under an earlier version of the method was judged by single left-out runs. */
export function isJudgedByCars(learned: StoredRoadLoad): boolean {
  return Number.isFinite(learned.leftOutCarsLogScore);
}

/** How much better whole cars are predicted from the others than from the priors, natural log units a run; 0 unjudged. */
export function gainPerRunOf(learned: StoredRoadLoad): number {
  return isJudgedByCars(learned) ? (learned.leftOutCarsLogScore - learned.priorLogScore) / learned.runs : 0;
}
