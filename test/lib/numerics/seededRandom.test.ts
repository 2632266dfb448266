import { describe, expect, it } from 'vitest';
import { seededRandom } from '@/lib/numerics/seededRandom';
import { xoshiro128 } from '@/lib/numerics/xoshiro128';

describe('xoshiro128**', () => {
  it('gives the reference outputs from the state 1, 2, 3, 4 (xoshiro128starstar.c 1.1; test of rand_xoshiro)', () => {
    const next = xoshiro128(1, 2, 3, 4);
    const outputs = Array.from({ length: 10 }, next);
    expect(outputs).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
    ]);
  });

  it('repeats for a seed and differs between seeds', () => {
    const take = (seed: number) => {
      const random = seededRandom(seed);
      return Array.from({ length: 20 }, () => random.nextUniform());
    };
    expect(take(7)).toEqual(take(7));
    expect(take(7)).not.toEqual(take(8));
  });

  it('gives uniform numbers in [0, 1) with mean 1/2 and variance 1/12, and normal ones with moments 0, 1, 0, 3', () => {
    const random = seededRandom(20);
    const n = 200_000;
    let inside = 0;
    let mean = 0;
    let square = 0;
    const moments = [0, 0, 0, 0];
    for (let i = 0; i < n; i++) {
      const uniform = random.nextUniform();
      if (uniform >= 0 && uniform < 1) inside += 1;
      mean += uniform / n;
      square += uniform ** 2 / n;
      const z = random.nextNormal();
      for (let k = 0; k < 4; k++) moments[k] = (moments[k] ?? 0) + z ** (k + 1) / n;
    }
    expect(inside).toBe(n);
    // five standard errors of each
    expect(Math.abs(mean - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / n));
    expect(Math.abs(square - 1 / 3)).toBeLessThan(5 * Math.sqrt(4 / 45 / n));
    expect(Math.abs(moments[0] ?? 9)).toBeLessThan(5 * Math.sqrt(1 / n));
    expect(Math.abs((moments[1] ?? 9) - 1)).toBeLessThan(5 * Math.sqrt(2 / n));
    expect(Math.abs(moments[2] ?? 9)).toBeLessThan(5 * Math.sqrt(15 / n));
    expect(Math.abs((moments[3] ?? 9) - 3)).toBeLessThan(5 * Math.sqrt(96 / n));
  });

  it('does not stall on a zero state', () => {
    const next = xoshiro128(0, 0, 0, 0);
    expect(new Set(Array.from({ length: 20 }, next)).size).toBeGreaterThan(10);
  });
});
