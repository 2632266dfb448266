/**
 * A seeded source of random numbers: xoshiro128** 1.1 (D. Blackman, S. Vigna, "Scrambled linear pseudorandom number
 * generators", ACM Trans. Math. Softw. 47 (2021) 36), its state filled from one integer by splitmix32.
 */
export interface RandomSource {
  /** 32 random bits as a whole number from 0. */
  nextUint32(): number;
  /** Uniform on [0, 1) with 53 random bits. */
  nextUniform(): number;
  /** Standard normal. */
  nextNormal(): number;
}

export function seededRandom(seed: number): RandomSource {
  let z = seed | 0;
  const word = (): number => {
    z = (z + 0x9e3779b9) | 0;
    let t = z ^ (z >>> 16);
    t = Math.imul(t, 0x21f0aaad);
    t = Math.imul(t ^ (t >>> 15), 0x735a2d97);
    return (t ^ (t >>> 15)) | 0;
  };
  return randomFromState(word(), word(), word(), word());
}

/** From the four words of state themselves, not all zero. */
export function randomFromState(a: number, b: number, c: number, d: number): RandomSource {
  let s0 = a | 0;
  let s1 = b | 0;
  let s2 = c | 0;
  let s3 = d | 0;
  if ((s0 | s1 | s2 | s3) === 0) s0 = 1;
  let spare = Number.NaN;

  const nextUint32 = (): number => {
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
  const nextUniform = (): number =>
    ((nextUint32() >>> 5) * 67108864 + (nextUint32() >>> 6)) / 9007199254740992;

  // polar method: G. Marsaglia, T. A. Bray, SIAM Review 6 (1964) 260–264
  const nextNormal = (): number => {
    if (!Number.isNaN(spare)) {
      const value = spare;
      spare = Number.NaN;
      return value;
    }
    for (;;) {
      const x = nextUint32() / 2147483648 - 1;
      const y = nextUint32() / 2147483648 - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const factor = Math.sqrt((-2 * Math.log(square)) / square);
      spare = y * factor;
      return x * factor;
    }
  };
  return { nextUint32, nextUniform, nextNormal };
}
