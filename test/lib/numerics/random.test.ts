import { describe, expect, it } from 'vitest';
import { createRandom, drawNormal, shuffle } from '@/lib/numerics/random';

describe('the seeded generator', () => {
  it('repeats for a seed and differs between seeds', () => {
    const take = (seed: number) => {
      const random = createRandom(seed);
      return Array.from({ length: 5 }, () => random.next());
    };
    expect(take(7)).toEqual(take(7));
    expect(take(7)).not.toEqual(take(8));
    expect(take(0).every((x) => x > 0 && x < 1)).toBe(true);
  });

  it('has the moments of the uniform and the normal', () => {
    const random = createRandom(42);
    const n = 100_000;
    const uniform = Array.from({ length: n }, () => random.next());
    const normal = Array.from({ length: n }, () => drawNormal(random));
    const mean = (xs: number[], power: number) => xs.reduce((sum, x) => sum + x ** power, 0) / n;
    // Five standard errors of each moment at n = 100 000.
    expect(Math.abs(mean(uniform, 1) - 1 / 2)).toBeLessThan(5 * Math.sqrt(1 / 12 / n));
    expect(Math.abs(mean(uniform, 2) - 1 / 3)).toBeLessThan(5 * Math.sqrt(4 / 45 / n));
    expect(Math.abs(mean(normal, 1))).toBeLessThan(5 / Math.sqrt(n));
    expect(Math.abs(mean(normal, 2) - 1)).toBeLessThan(5 * Math.sqrt(2 / n));
    expect(Math.abs(mean(normal, 4) - 3)).toBeLessThan(5 * Math.sqrt(96 / n));
  });

  it('shuffles without losing anything, every order about as often', () => {
    const random = createRandom(3);
    const counts = new Map<string, number>();
    for (let i = 0; i < 6000; i++) {
      const order = shuffle(['a', 'b', 'c'], random).join('');
      counts.set(order, (counts.get(order) ?? 0) + 1);
    }
    expect(counts.size).toBe(6);
    // 1000 expected; five standard deviations of a binomial count.
    for (const count of counts.values()) expect(Math.abs(count - 1000)).toBeLessThan(145);
  });
});
