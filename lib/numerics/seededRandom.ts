import { seededXoshiro128, type WordSource } from './xoshiro128';

/** Uniform numbers of 53 bits, normal ones in pairs. */
export interface RandomSource {
  /** 32 random bits as a whole number from 0. */
  nextUint32(): number;
  /** Uniform on [0, 1) with 53 random bits. */
  nextUniform(): number;
  /** Standard normal. */
  nextNormal(): number;
}

export function seededRandom(seed: number): RandomSource {
  return randomFrom(seededXoshiro128(seed));
}

function randomFrom(nextUint32: WordSource): RandomSource {
  let spare = Number.NaN;
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
