import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { type NormalisedRun, normaliseRun } from '@/lib/physics/normalise';
import { windLeftOnRun } from '@/lib/physics/runWind';
import { exampleCase } from '@/test/lib/physics/exampleCase';

const withWind = (alongWindMps: number, crossWindMps: number): NormalisationCase => {
  const base = exampleCase();
  const { offCruiseShare: _share, ...run } = base.run;
  const speed = 110 / 3.6;
  return { ...base, run: { ...run, meanSquareSpeedM2S2: speed ** 2, alongWindMps, crossWindMps } };
};

function normalised(input: NormalisationCase): NormalisedRun {
  const result = normaliseRun(input);
  if (result.outcome !== 'normalised') throw new Error('the example is within reach');
  return result;
}

const left = (input: NormalisationCase) => windLeftOnRun(input, normalised(input));

describe('what a loop leaves of the wind', () => {
  // (6/30.56)² and (1 + 3)·(6/30.56)²: mean of (v ± h)² over an out-and-back, and drag rising by κ = 3 per yaw angle
  // squared; arithmetic by hand from the road-load form of SAE J1263.
  it('is 3.9 % of air drag for 6 m/s along and 15 % for 6 m/s across at 110 km/h', () => {
    expect(left(withWind(6, 0)).ofAero).toBeCloseTo(0.0386, 4);
    expect(left(withWind(0, 6)).ofAero).toBeCloseTo(0.1542, 4);
  });

  it('splits into along and across without a remainder', () => {
    const both = left(withWind(3, 4));
    expect(both.alongOfAero + both.crossOfAero).toBeCloseTo(both.ofAero, 12);
  });

  it('is nothing in a dead calm', () => {
    expect(left(withWind(0, 0))).toMatchObject({ ofAero: 0, ofConsumption: 0 });
    expect(Math.abs(left(withWind(0, 0)).leftWhPerKm)).toBe(0);
  });

  it('says the same in Wh/km and as a share of the measured consumption', () => {
    const wind = fc.double({ min: 0, max: 5, noNaN: true });
    fc.assert(
      fc.property(wind, wind, (along, cross) => {
        const input = withWind(along, cross);
        const run = normalised(input);
        const { ofConsumption, leftWhPerKm } = windLeftOnRun(input, run);
        expect(ofConsumption * run.measuredWhPerKm).toBeCloseTo(leftWhPerKm, 9);
        expect(leftWhPerKm).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});
