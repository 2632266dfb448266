import { describe, expect, it } from 'vitest';
import type { CarSoFar } from '@/lib/stats/nextSession';
import type { ReckoningBasis } from '@/lib/study/reckoning';
import { type CarOnLoop, type OpenPair, worthDriving } from '@/lib/study/worthDriving';

const RUN_VARIANCE = 1e-4;
const FITTED = {
  place: new Map([
    ['base', 0],
    ['low', 1],
    ['far', 2],
  ]),
  covariance: [
    [4e-4, 2e-4, 0],
    [2e-4, 4e-4, 0],
    [0, 0, 9e-4],
  ],
  components: { car: 0, carLoop: 0, session: 0, residual: 0.75 * RUN_VARIANCE },
  knownVariance: 0.25 * RUN_VARIANCE,
};
const PAIR: OpenPair = {
  baselineId: 'base',
  setupId: 'low',
  modelId: 'one',
  se: Math.sqrt(4e-4),
  sharedU: 0,
  dof: 30,
};
const NONE: CarSoFar = new Map();
const car = (id: string | undefined, lengthM: number, modelId = 'one'): CarOnLoop => ({
  carId: id,
  modelId,
  soFar: NONE,
  loop: { id: `loop ${lengthM}`, name: 'Loop', lengthM },
});
const basis = (_: OpenPair, { loop }: CarOnLoop): ReckoningBasis => ({
  runVariance: RUN_VARIANCE,
  isAssumed: false,
  loopLengthM: loop.lengthM,
  speedMps: 25,
  consumptionWhPerKm: null,
  battery: null,
  curve: null,
});

describe('what to drive next', () => {
  it('reckons a day by hand: without variances of cars and days each run adds 1/(v + u²) to its setup', () => {
    // Two runs of each: the two rows' 2 × 2 block of M grows by 2/(v + u²) on its diagonal.
    const [found] = worthDriving([PAIR], [car(undefined, 50_000)], FITTED, basis);
    const byDay = (runs: number) => {
      const diagonal = 4e-4 / 12e-8 + runs / RUN_VARIANCE;
      const off = -2e-4 / 12e-8;
      return 2 / (diagonal - off);
    };
    const hours = (runs: number) => (runs * (50_000 / 25 + 900) + 10_000 / 25) / 3600;
    const t = 2.0422724563; // t₀.₉₇₅(30), of printed tables
    const gain = (each: number) => (t * (0.02 - Math.sqrt(byDay(each)))) / hours(2 * each);
    const best = Math.max(gain(1), gain(2));
    expect(found?.day === 'A B' || found?.day === 'A B B A').toBe(true);
    expect(found?.gainPerHour).toBeCloseTo(best, 8);
    expect(found?.isChargingKnown).toBe(false);
    expect(found?.anyCar).toBe(true);
  });

  it('prefers the shorter loop where runs are as good there, and a pair that is known less', () => {
    const far: OpenPair = { ...PAIR, setupId: 'far', se: Math.sqrt(13e-4) };
    const found = worthDriving([PAIR, far], [car(undefined, 90_000), car('mine', 30_000)], FITTED, basis);
    expect(found.map(({ pair }) => pair.setupId)).toEqual(['far', 'low']);
    expect(found.every(({ car: { carId } }) => carId === 'mine')).toBe(true);
  });

  it('never takes off what all runs share, and leaves out what nobody here could drive', () => {
    const shared: OpenPair = { ...PAIR, sharedU: 0.0199 };
    const [found] = worthDriving([shared], [car(undefined, 50_000)], FITTED, basis);
    expect(found?.halfWidthAfter).toBeGreaterThan(0.0199 * 2.04);
    expect(worthDriving([PAIR], [car(undefined, 50_000, 'two')], FITTED, basis)).toEqual([]);
  });
});
