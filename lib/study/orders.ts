import {
  mirrored,
  type PlannedSession,
  planAbba,
  planInTurn,
  planWilliams,
  planWithReference,
} from '@/lib/stats/design';

/** How a day's runs are ordered. */
export type OrderKind = 'A B B A' | 'in turn' | 'there and back' | 'Williams square' | 'shared reference';

export interface StudyOrders {
  kind: OrderKind;
  /** One list of setups a day, in driving order. */
  days: string[][];
}

export interface OrdersAsked {
  baselineId: string;
  /** Without the baseline. */
  otherIds: readonly string[];
  runsADay: number;
  days: number;
  seed: number;
}

/** Fewest and most runs of a day: one of each of two, and what a long summer's day holds. */
export const RUNS_A_DAY = [2, 12] as const;
export const MOST_DAYS = 60;

/**
 * The orders of a study, by what a day holds (method B9): two setups as A B B A where fours fit, else in turn; more of
 * them there and back where each fits twice, as a Williams square where each fits once, and with the baseline in each day
 * where they do not fit. What chance decides comes from the seed, which is kept and shown, so that nobody can have
 * chosen it.
 */
export function studyOrders({ baselineId, otherIds, runsADay, days, seed }: OrdersAsked): StudyOrders {
  const setups = [baselineId, ...otherIds];
  const count = setups.length;
  const made = (kind: OrderKind, plan: readonly PlannedSession[]): StudyOrders => ({
    kind,
    days: plan.map((session) => session.setups),
  });
  if (count === 2) {
    const two = [baselineId, otherIds[0] as string] as const;
    if (runsADay % 4 === 0) return made('A B B A', planAbba(two, days, seed, runsADay / 4));
    // An even day that fours do not fill would not cancel a drift: its last run stays free.
    const runs = runsADay === 2 || runsADay % 2 === 1 ? runsADay : runsADay - 1;
    return made('in turn', planInTurn(two, runs, days, seed));
  }
  if (runsADay >= 2 * count) return made('there and back', mirrored(planWilliams(setups, days, seed)));
  if (runsADay >= count) return made('Williams square', planWilliams(setups, days, seed));
  return made('shared reference', planWithReference(baselineId, otherIds, runsADay, days, seed));
}

export const ORDER_WORDS: Readonly<Record<OrderKind, string>> = {
  'A B B A': 'each day there and back (A B B A), so that a drift through the day falls out',
  'in turn': 'in turn, whichever came second one day beginning the next',
  'there and back': 'each day through all setups and back again, so that a drift through the day falls out',
  'Williams square': 'each setup once a day, in every place and after every other equally often',
  'shared reference': 'the baseline on every day, the others dealt in turn beside it',
};
