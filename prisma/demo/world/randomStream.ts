import { createRandom, drawNormal, type Random } from '@/lib/numerics/random';

/**
 * A source of random numbers for one purpose ("weather of this day"), derived from the world's seed and a label.
 * Each purpose has its own, so that one more car or run leaves all other draws as they were.
 */
export class RandomStream {
  private readonly random: Random;

  constructor(seed: number, label: string) {
    this.random = createRandom(mixLabel(seed, label));
  }

  uniform(low: number, high: number): number {
    return low + (high - low) * this.random.next();
  }

  normal(mean: number, standardDeviation: number): number {
    return mean + standardDeviation * drawNormal(this.random);
  }

  /** A normal draw kept within the mean ± `limit` by drawing again. */
  normalWithin(mean: number, standardDeviation: number, limit: number): number {
    for (;;) {
      const value = this.normal(mean, standardDeviation);
      if (Math.abs(value - mean) <= limit) return value;
    }
  }

  integer(low: number, high: number): number {
    return low + Math.floor((high - low + 1) * this.random.next());
  }

  chance(probability: number): boolean {
    return this.random.next() < probability;
  }

  pick<T>(items: readonly T[]): T {
    const item = items[Math.floor(items.length * this.random.next())];
    if (item === undefined) throw new RangeError('nothing to pick from');
    return item;
  }
}

/** FNV-1a over the label's code units, started from the seed (Fowler, Noll, Vo; constants of the 32-bit variant). */
function mixLabel(seed: number, label: string): number {
  let hash = (0x811c9dc5 ^ seed) | 0;
  for (let i = 0; i < label.length; i++) {
    hash = Math.imul(hash ^ label.charCodeAt(i), 0x01000193);
  }
  return hash;
}
