/**
 * xoshiro128** 1.1 (D. Blackman, S. Vigna, "Scrambled linear pseudorandom number generators", ACM Trans. Math. Softw.
 * 47 (2021) 36): a source of 32 random bits at a time, and how one integer fills its state. What numbers are made of
 * the bits is said by the two conventions beside this file, `random.ts` and `seededRandom.ts`.
 */
export type WordSource = () => number;

/** From the four words of state themselves; all zero would stand still and becomes 1, 0, 0, 0. */
export function xoshiro128(a: number, b: number, c: number, d: number): WordSource {
  let s0 = a | 0;
  let s1 = b | 0;
  let s2 = c | 0;
  let s3 = d | 0;
  if ((s0 | s1 | s2 | s3) === 0) s0 = 1;
  return () => {
    const product = Math.imul(s1, 5);
    const result = Math.imul((product << 7) | (product >>> 25), 9);
    const shifted = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= shifted;
    s3 = (s3 << 11) | (s3 >>> 21);
    return result >>> 0;
  };
}

/** @param seed any finite number; its low 32 bits are spread over the state by splitmix32 */
export function seededXoshiro128(seed: number): WordSource {
  let state = seed | 0;
  const word = (): number => {
    state = (state + 0x9e3779b9) | 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return z ^ (z >>> 15);
  };
  return xoshiro128(word(), word(), word(), word());
}
