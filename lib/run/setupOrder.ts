/** The setup proposed for the next run of a day, and the order that it follows. */
export interface ProposedSetup {
  setupId: string;
  order: 'abba' | 'rotation';
}

const ABBA = [0, 1, 1, 0] as const;

/**
 * What to drive next, from the setups of the day's runs in time order: two setups go A B B A, so that a steady drift
 * of wind, warmth or traffic falls on both alike (the counterbalanced order of lib/stats/design; a linear drift
 * cancels within each four); more go round in turn, which balances nothing within the day. Where the day has gone
 * another way, the setup that was driven less is next. None while there is only one.
 */
export function proposedSetup(driven: readonly string[]): ProposedSetup | undefined {
  const setups = [...new Set(driven)];
  const [a, b] = setups;
  if (a === undefined || b === undefined) return undefined;
  if (setups.length > 2) {
    const fewest = Math.min(...setups.map((one) => timesIn(driven, one)));
    const next = setups.find((one) => timesIn(driven, one) === fewest);
    return { setupId: next ?? a, order: 'rotation' };
  }
  const pair = [a, b] as const;
  const isOnTheWay = driven.every((one, index) => one === pair[ABBA[index % 4] ?? 0]);
  const lesser = timesIn(driven, a) <= timesIn(driven, b) ? a : b;
  return { setupId: isOnTheWay ? pair[ABBA[driven.length % 4] ?? 0] : lesser, order: 'abba' };
}

function timesIn(driven: readonly string[], setup: string): number {
  return driven.filter((one) => one === setup).length;
}

/** Why a setup is proposed, beside the choice. */
export function orderWords(order: ProposedSetup['order'] | undefined): string {
  if (order === 'abba')
    return 'Proposed by A B B A: what drifts over the day then falls on both setups alike.';
  if (order === 'rotation')
    return 'Proposed in turn. With more than two setups a drift over the day is not balanced: plan the order before driving.';
  return 'With two setups the order A B B A is proposed from the third run on.';
}
