import { describe, expect, it } from 'vitest';
import { speedNoiseM2S2 } from '@/lib/capture/trace/speedNoise';
import { seededRandom } from '@/lib/numerics/seededRandom';

describe('speedNoiseM2S2', () => {
  const random = seededRandom(11);
  const noisy = (speed: (k: number) => number, s: number, count = 20_000) =>
    Float64Array.from({ length: count }, (_, k) => speed(k) + s * random.nextNormal());

  it('is the variance of noise on a steady speed, and on one that rises evenly', () => {
    for (const s of [0.1, 0.4, 1]) {
      // 20 000 squares that overlap: the median is good to 2 %.
      expect(
        speedNoiseM2S2(
          noisy(() => 30, s),
          12,
        ) /
          s ** 2 -
          1,
      ).toBeCloseTo(0, 1);
      expect(
        speedNoiseM2S2(
          noisy((k) => 20 + k / 1000, s),
          12,
        ) /
          s ** 2 -
          1,
      ).toBeCloseTo(0, 1);
    }
  });

  it('is not led astray by a fifth of ramps and stops', () => {
    const speed = (k: number) => (k % 500 < 100 ? Math.abs(50 - (k % 500)) * 0.6 : 30);
    expect(speedNoiseM2S2(noisy(speed, 0.3), 12) / 0.09).toBeGreaterThan(0.9);
    expect(speedNoiseM2S2(noisy(speed, 0.3), 12) / 0.09).toBeLessThan(1.5);
  });

  it('sees none without noise, at rest, or in too few speeds', () => {
    expect(speedNoiseM2S2(new Float64Array(500).fill(30), 12)).toBe(0);
    expect(
      speedNoiseM2S2(
        noisy(() => 0, 0.5, 500),
        12,
      ),
    ).toBe(0);
    expect(
      speedNoiseM2S2(
        noisy(() => 30, 0.5, 40),
        12,
      ),
    ).toBe(0);
  });
});
