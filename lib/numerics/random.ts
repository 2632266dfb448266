/**
 * A seeded source of uniform numbers. Pure rooms never reach for ambient randomness:
 * every simulation, shuffle and quasi-Monte Carlo shift takes one of these.
 */
export interface Random {
  /** The next uniform number in (0, 1), never 0 and never 1. */
  next(): number;
}

const TWO_POW_32 = 4294967296;

/** One round of splitmix32, used to spread a small integer seed over the 128-bit state. */
function splitMix(state: number): { state: number; value: number } {
  const advanced = (state + 0x9e3779b9) | 0;
  let z = advanced;
  z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
  z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
  return { state: advanced, value: (z ^ (z >>> 15)) >>> 0 };
}

/**
 * xoshiro128** seeded through splitmix32.
 * Blackman D., Vigna S. (2021), Scrambled linear pseudorandom number generators,
 * ACM Transactions on Mathematical Software 47(4), 36.
 *
 * @param seed any finite number; only its low 32 bits count
 */
export function createRandom(seed: number): Random {
  const state = new Uint32Array(4);
  let spread = seed | 0;
  for (let i = 0; i < 4; i++) {
    const mixed = splitMix(spread);
    spread = mixed.state;
    state[i] = mixed.value;
  }
  let [a, b, c, d] = [state[0] ?? 1, state[1] ?? 2, state[2] ?? 3, state[3] ?? 4];
  const nextUint32 = (): number => {
    const scrambled = Math.imul(b, 5);
    const result = Math.imul((scrambled << 7) | (scrambled >>> 25), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = (d << 11) | (d >>> 21);
    return result;
  };
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
