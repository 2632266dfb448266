import { describe, expect, it } from 'vitest';
import type { TimeGrid } from '@/lib/capture/trace/path';
import { cruiseOf, momentsOf, slowDownsOf, squaredSpeedDropM2S2, stopsOf } from '@/lib/capture/trace/speed';

/** A grid whose distance is the exact integral of a speed that runs straight between nodes. */
function grid(speeds: readonly number[], stepS = 1): TimeGrid {
  const distanceM = new Float64Array(speeds.length);
  for (let k = 1; k < speeds.length; k++) {
    distanceM[k] =
      (distanceM[k - 1] as number) + (((speeds[k - 1] as number) + (speeds[k] as number)) / 2) * stepS;
  }
  return {
    stepS,
    distanceM,
    speedMps: Float64Array.from(speeds),
    speedNoiseM2S2: 0,
    speedSource: 'position',
  };
}
const ramp = (from: number, to: number, steps: number) =>
  Array.from({ length: steps }, (_, k) => from + ((to - from) * k) / steps);
const hold = (speed: number, seconds: number) => new Array<number>(seconds).fill(speed);

describe('momentsOf against integrals in closed form', () => {
  it('is v and v² at steady speed', () => {
    const moments = momentsOf(grid(hold(30, 100)));
    expect(moments.meanSpeedMps).toBeCloseTo(30, 12);
    expect(moments.meanSquareSpeedM2S2).toBeCloseTo(900, 9);
  });

  it('is v²/2 over a ramp from rest: ∫v³dt/∫v dt = (v⁴/4a)/(v²/2a)', () => {
    expect(momentsOf(grid([...ramp(0, 24, 48), 24])).meanSquareSpeedM2S2).toBeCloseTo(288, 9);
  });

  it('weighs by distance, not by time: half the time at 10, half at 30 m/s gives 700, not 500', () => {
    const { meanSquareSpeedM2S2, meanSpeedMps } = momentsOf(grid([...hold(10, 20_001), ...hold(30, 20_001)]));
    // (10³ + 30³)/(10 + 30) = 700; the one-second step between the halves is worth less than 0.01.
    expect(meanSquareSpeedM2S2).toBeCloseTo(700, 1);
    expect(meanSpeedMps).toBeCloseTo(20, 6);
  });
});

describe('cruiseOf', () => {
  const speeds = [
    ...ramp(0, 30, 30),
    ...hold(30, 600),
    ...ramp(30, 0, 30),
    ...hold(0, 20),
    ...ramp(0, 30, 30),
    ...hold(30, 600),
    ...ramp(30, 0, 30),
    0,
  ];

  it('finds both cruises, their mean and the share off them', () => {
    const cruise = cruiseOf(grid(speeds), 30);
    expect(cruise?.segments).toHaveLength(2);
    expect(cruise?.meanSpeedMps).toBeCloseTo(30, 1);
    expect(cruise?.withinBandShare).toBeGreaterThan(0.99);
    // Four ramps of 450 m less their last tenth of speed, which is within the band: 19 % of each ramp's distance.
    const off = (4 * 450 * 0.81) / (2 * 18_000 + 1800);
    expect(cruise?.offCruiseShare).toBeCloseTo(off, 2);
  });

  it('counts time outside ± 3 km/h of the class, while the cruise itself stays what was driven', () => {
    const wrongClass = cruiseOf(grid(speeds), 31.5);
    expect(wrongClass?.meanSpeedMps).toBeCloseTo(30, 1);
    expect(wrongClass?.withinBandShare).toBeLessThan(0.01);
  });

  it('gives the standard deviation of a wave: amplitude/√2', () => {
    const wave = Array.from({ length: 3600 }, (_, k) => 30 + 0.8 * Math.sin((2 * Math.PI * k) / 60));
    expect(cruiseOf(grid(wave), 30)?.spreadMps).toBeCloseTo(0.8 / Math.SQRT2, 3);
  });

  it('finds none in a crawl or in a run without steadiness', () => {
    expect(cruiseOf(grid(hold(2, 300)), 30)).toBeNull();
    expect(
      cruiseOf(grid(Array.from({ length: 300 }, (_, k) => (k % 40 < 20 ? 8 + (k % 40) : 48 - (k % 40)))), 30),
    ).toBeNull();
  });
});

describe('stopsOf and slowDownsOf', () => {
  const speeds = [
    ...ramp(0, 30, 30),
    ...hold(30, 100),
    ...ramp(30, 20, 10),
    ...ramp(20, 30, 10),
    ...hold(30, 100),
    ...ramp(30, 0, 30),
    ...hold(0, 25),
    ...ramp(0, 30, 30),
    ...hold(30, 50),
    ...ramp(30, 0, 30),
    0,
  ];

  it('lists the halt with its length and place', () => {
    const stops = stopsOf(grid(speeds));
    expect(stops).toHaveLength(1);
    expect(stops[0]?.durationS).toBeGreaterThanOrEqual(24);
    expect(stops[0]?.durationS).toBeLessThanOrEqual(27);
  });

  it('lists each fall from crest to trough; their squared drops add up', () => {
    const falls = slowDownsOf(grid(speeds));
    expect(falls.map(({ fromMps, toMps }) => [fromMps, toMps])).toEqual([
      [30, 20],
      [30, 0],
      [30, 0],
    ]);
    expect(squaredSpeedDropM2S2(falls)).toBeCloseTo(30 ** 2 - 20 ** 2 + 2 * 30 ** 2, 9);
  });

  it('does not count the breathing of traffic below 3 m/s', () => {
    const wave = Array.from({ length: 1000 }, (_, k) => 30 + 1.4 * Math.sin(k / 9));
    expect(slowDownsOf(grid(wave))).toEqual([]);
  });

  it('balances: from rest to rest, what the falls take the rises gave', () => {
    // Turning points of any profile from 0 to 0: Σ(hi² − lo²) over falls equals that over rises.
    const profile = [0, 12, 5, 25, 18, 33, 0, 30, 9, 14, 0].flatMap((v, k, all) =>
      k + 1 < all.length ? ramp(v, all[k + 1] as number, 10) : [v],
    );
    const mirrored = grid([...profile].reverse());
    expect(squaredSpeedDropM2S2(slowDownsOf(grid(profile)))).toBeCloseTo(
      squaredSpeedDropM2S2(slowDownsOf(mirrored)),
      9,
    );
  });
});
