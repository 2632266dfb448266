import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assumedCurve, chargingTimeS, limitedBy, statedCurve } from '@/lib/physics/estimate/taper';
import { chargedInSteps } from './drivenInSteps';

const curve = statedCurve([
  { charge: 0, powerW: 90_000 },
  { charge: 0.3, powerW: 150_000 },
  { charge: 0.6, powerW: 110_000 },
  { charge: 1, powerW: 20_000 },
]);
const CAPACITY_WH = 80_000;

describe('the time a charge takes', () => {
  it('is energy over power at one power: 60 kWh at 120 kW take half an hour (by hand)', () => {
    const flat = statedCurve([
      { charge: 0, powerW: 120_000 },
      { charge: 1, powerW: 120_000 },
    ]);
    expect(chargingTimeS(flat, 100_000, 0.1, 0.7)).toBeCloseTo(1800, 9);
  });

  it('follows the logarithm on a falling line: from 100 kW to 50 kW over 40 kWh, 0.8 h · ln 2 (by hand)', () => {
    const falling = statedCurve([
      { charge: 0.2, powerW: 100_000 },
      { charge: 0.6, powerW: 50_000 },
    ]);
    expect(chargingTimeS(falling, 100_000, 0.2, 0.6)).toBeCloseTo(3600 * 0.8 * Math.LN2, 8);
  });

  it('agrees with filling the battery second by second', () => {
    for (const [from, to] of [
      [0.1, 0.8],
      [0.05, 0.95],
      [0.35, 0.5],
    ] as const) {
      // half a step of a second is what the stepping itself may be off by
      expect(
        Math.abs(chargingTimeS(curve, CAPACITY_WH, from, to) - chargedInSteps(curve, CAPACITY_WH, from, to)),
      ).toBeLessThan(1);
      const weak = limitedBy(curve, 100_000);
      expect(
        Math.abs(
          chargingTimeS(weak, CAPACITY_WH, from, to) - chargedInSteps(curve, CAPACITY_WH, from, to, 100_000),
        ),
      ).toBeLessThan(1);
    }
  });

  it('adds up over any charge between, grows with the capacity and falls with the power', () => {
    const charge = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        charge,
        charge,
        charge,
        fc.double({ min: 1000, max: 300_000, noNaN: true }),
        (a, b, c, limit) => {
          const [from, mid, to] = [a, b, c].sort((x, y) => x - y) as [number, number, number];
          const whole = chargingTimeS(curve, CAPACITY_WH, from, to);
          const parts =
            chargingTimeS(curve, CAPACITY_WH, from, mid) + chargingTimeS(curve, CAPACITY_WH, mid, to);
          expect(Math.abs(whole - parts)).toBeLessThan(1e-6);
          expect(chargingTimeS(curve, 2 * CAPACITY_WH, from, to)).toBeCloseTo(2 * whole, 6);
          const limited = chargingTimeS(limitedBy(curve, limit), CAPACITY_WH, from, to);
          expect(limited).toBeGreaterThanOrEqual(whole - 1e-6);
          expect(limited).toBeGreaterThanOrEqual((3600 * CAPACITY_WH * (to - from)) / limit - 1e-6);
        },
      ),
    );
  });
});

describe('a charging curve', () => {
  it('is refused when its charges do not rise, or a power is not above zero', () => {
    expect(() => statedCurve([{ charge: 0, powerW: 1 }])).toThrow('two points');
    const pair = (charge: number, powerW: number) => [
      { charge: 0.5, powerW: 100 },
      { charge, powerW },
    ];
    expect(() => statedCurve(pair(0.5, 90))).toThrow('must rise');
    expect(() => statedCurve(pair(1.1, 90))).toThrow('between 0 and 1');
    expect(() => statedCurve(pair(0.9, 0))).toThrow('above zero');
  });

  it('that nobody stated is named as assumed, on the stated peak or one and a half times the capacity an hour', () => {
    expect(assumedCurve(60_000)).toMatchObject({
      basis: 'assumed',
      points: [{ powerW: 90_000 }, {}, {}, {}],
    });
    expect(assumedCurve(60_000, 50_000).points[2]).toEqual({ charge: 0.8, powerW: 25_000 });
    expect(limitedBy(assumedCurve(60_000), 40_000).basis).toBe('assumed');
  });
});
