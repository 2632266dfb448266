import { createRandom, type Random, shuffle } from '@/lib/numerics/random';

/** The order of a study: one list of setups a session, in driving order. Seeded, published before driving. */
export interface PlannedSession {
  session: number;
  setups: string[];
}

/** Raised when a plan cannot be made from what was asked. */
export class ImpossibleDesign extends RangeError {
  constructor(reason: string) {
    super(reason);
    this.name = 'ImpossibleDesign';
  }
}

/**
 * Two setups: ABBA and BAAB in turn, which cancels a linear drift within each session.
 * Cox D. R. (1951), Biometrika 38, 312. A seeded coin decides which comes first.
 *
 * @param quartets ABBA blocks a session
 */
export function planAbba(
  setups: readonly [string, string],
  sessions: number,
  seed: number,
  quartets = 1,
): PlannedSession[] {
  const flip = createRandom(seed).next() < 0.5 ? 0 : 1;
  return Array.from({ length: sessions }, (_, i) => {
    const order: string[] = [];
    for (let q = 0; q < quartets; q++) {
      const swap = (i + q + flip) % 2 === 1;
      const [a, b] = swap ? [setups[1], setups[0]] : setups;
      order.push(a, b, b, a);
    }
    return { session: i + 1, setups: order };
  });
}

/**
 * Two setups in turn, whichever came second one session beginning the next: A B A, then B A B. With an odd number of
 * runs a linear drift cancels within each session, as in A B B A; with two it cancels over a pair of sessions
 * (cross-over in both orders: Grizzle J. E. 1965, Biometrics 21, 467, from memory).
 *
 * @param runs of a session, two or more
 */
export function planInTurn(
  setups: readonly [string, string],
  runs: number,
  sessions: number,
  seed: number,
): PlannedSession[] {
  if (runs < 2) throw new ImpossibleDesign('a session must hold both setups');
  const flip = createRandom(seed).next() < 0.5 ? 0 : 1;
  return Array.from({ length: sessions }, (_, i) => ({
    session: i + 1,
    setups: Array.from({ length: runs }, (_run, k) => setups[(i + k + flip) % 2] as string),
  }));
}

/** A session's order and then the same backwards, so that a linear drift cancels within it, as in A B B A. */
export function mirrored(plan: readonly PlannedSession[]): PlannedSession[] {
  return plan.map(({ session, setups }) => ({ session, setups: [...setups, ...[...setups].reverse()] }));
}

/**
 * Williams' Latin square: each setup once a session and once a place, each following each other equally often;
 * m sessions for even m, 2m for odd. Williams E. J. (1949), Aust. J. Scientific Research A 2, 149.
 *
 * @returns rows of indices 0 … m − 1
 */
export function williamsSquare(m: number): number[][] {
  if (!Number.isInteger(m) || m < 2) throw new ImpossibleDesign('a Williams square needs two setups or more');
  const first: number[] = [];
  for (let i = 0; i < m; i++) first.push(i % 2 === 1 ? (i + 1) / 2 : (m - i / 2) % m);
  const rows = Array.from({ length: m }, (_, shift) => first.map((k) => (k + shift) % m));
  return m % 2 === 0 ? rows : [...rows, ...rows.map((row) => [...row].reverse())];
}

/** A Williams square over named setups with seeded labels and row order, repeated to the wanted sessions. */
export function planWilliams(setups: readonly string[], sessions: number, seed: number): PlannedSession[] {
  const random = createRandom(seed);
  const names = shuffle(setups, random);
  const square = williamsSquare(setups.length);
  const plan: PlannedSession[] = [];
  while (plan.length < sessions) {
    for (const row of shuffle(square, random)) {
      if (plan.length === sessions) break;
      plan.push({ session: plan.length + 1, setups: row.map((k) => names[k] as string) });
    }
  }
  return plan;
}

/**
 * More setups than a session holds: incomplete blocks that all hold the reference, so that every other setup is
 * compared with it inside a session; the others are dealt in turn so that their counts differ by one at most.
 * Reinforced incomplete blocks: Das M. N. (1958), J. Indian Soc. Agricultural Statistics 10, 73 (from memory).
 *
 * @param capacity runs a session holds, the reference included
 */
export function planWithReference(
  reference: string,
  others: readonly string[],
  capacity: number,
  sessions: number,
  seed: number,
): PlannedSession[] {
  if (capacity < 2) throw new ImpossibleDesign('a session must hold the reference and one more setup');
  if (others.length === 0) throw new ImpossibleDesign('there is nothing to compare with the reference');
  const random = createRandom(seed);
  const perSession = Math.min(capacity - 1, others.length);
  let deck: string[] = [];
  const deal = (taken: readonly string[], source: Random): string => {
    if (deck.length === 0) deck = shuffle(others, source);
    const at = deck.findIndex((setup) => !taken.includes(setup));
    // A fresh deck may start with a setup this session already has; the rest of the deck keeps its turn.
    if (at === -1) {
      const rest = deck;
      deck = shuffle(
        others.filter((setup) => !taken.includes(setup)),
        source,
      );
      const drawn = deck.shift() as string;
      deck = [...rest, ...deck, ...taken.filter((setup) => !rest.includes(setup))];
      return drawn;
    }
    return deck.splice(at, 1)[0] as string;
  };
  return Array.from({ length: sessions }, (_, i) => {
    const chosen: string[] = [];
    while (chosen.length < perSession) chosen.push(deal(chosen, random));
    return { session: i + 1, setups: shuffle([reference, ...chosen], random) };
  });
}
