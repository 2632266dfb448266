import { seededXoshiro128 } from './xoshiro128';

/**
 * A seeded source of uniform numbers. Pure rooms never reach for ambient randomness:
 * every simulation, shuffle and quasi-Monte Carlo shift takes one of these.
 */
export interface Random {
  /** The next uniform number in (0, 1), never 0 and never 1. */
  next(): number;
}

const TWO_POW_32 = 4294967296;

/** Each number of 32 bits, in the middle of its cell. @param seed any finite number; only its low 32 bits count */
export function createRandom(seed: number): Random {
  const nextUint32 = seededXoshiro128(seed);
  return { next: () => (nextUint32() + 0.5) / TWO_POW_32 };
}

/**
 * A standard normal draw by the polar method.
 * Marsaglia G., Bray T. A. (1964), SIAM Review 6(3), 260–264.
 */
export function drawNormal(random: Random): number {
  for (;;) {
    const x = 2 * random.next() - 1;
    const y = 2 * random.next() - 1;
    const square = x * x + y * y;
    if (square > 0 && square < 1) return x * Math.sqrt((-2 * Math.log(square)) / square);
  }
}

/** A seeded order of the given items (Fisher–Yates); the input is left alone. */
export function shuffle<T>(items: readonly T[], random: Random): T[] {
  const order = [...items];
  for (let i = order.length - 1; i > 0; i--) {
    const j = Math.floor(random.next() * (i + 1));
    const held = order[i] as T;
    order[i] = order[j] as T;
    order[j] = held;
  }
  return order;
}
