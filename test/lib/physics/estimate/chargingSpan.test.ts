import { describe, expect, it } from 'vitest';
import { chargingSpan, powerMet95 } from '@/lib/physics/estimate/chargingSpan';
import { assumedCurve, statedCurve } from '@/lib/physics/estimate/taper';

const flat = statedCurve([
  { charge: 0, powerW: 100_000 },
  { charge: 1, powerW: 100_000 },
]);

describe('the time from one state of charge to another', () => {
  it('is energy over power: 70 % of 80 kWh at 100 kW, 2016 s (by hand)', () => {
    const span = chargingSpan(flat, { basis: 'measured', capacityWh: 80_000, uWh: 0 }, 0.1, 0.8);
    expect(span.timeS).toBeCloseTo(2016, 9);
    expect([span.fromCharge, span.toCharge]).toEqual([0.1, 0.8]);
  });

  it('has the relative uncertainties of capacity and power in squares: 6 and 10 %, factor 1.960 (by hand)', () => {
    const span = chargingSpan(flat, { basis: 'measured', capacityWh: 80_000, uWh: 4800 }, 0.1, 0.8);
    const [low, high] = span.interval95S;
    const expected = Math.exp(1.959964 * Math.sqrt(0.06 ** 2 + 0.1 ** 2));
    expect(high / span.timeS).toBeCloseTo(expected, 6);
    expect(span.timeS / low).toBeCloseTo(expected, 6);
  });

  it('has the power’s own part by what share of a curve is met: 10 % stated, 25 % assumed (by hand)', () => {
    const [low, high] = powerMet95(flat);
    expect(high).toBeCloseTo(Math.exp(0.1959964), 6);
    expect(low).toBeCloseTo(Math.exp(-0.1959964), 6);
    expect(powerMet95(assumedCurve(80_000))[1]).toBeCloseTo(Math.exp(0.489991), 6);
    // with a capacity that is known exactly it is all of the time's interval, the other way round
    const span = chargingSpan(flat, { basis: 'measured', capacityWh: 80_000, uWh: 0 }, 0.1, 0.8);
    expect(span.interval95S[0] / span.timeS).toBeCloseTo(1 / high, 9);
  });

  it('takes 0.95 of a capacity when new, and knows an assumed curve less well than a stated one', () => {
    const battery = { basis: 'new', capacityWh: 80_000 } as const;
    expect(chargingSpan(flat, battery, 0.1, 0.8).timeS).toBeCloseTo(0.95 * 2016, 9);
    const width = (curve: typeof flat) => {
      const [low, high] = chargingSpan(curve, battery, 0.1, 0.8).interval95S;
      return Math.log(high / low);
    };
    expect(width(assumedCurve(80_000))).toBeGreaterThan(2 * width(flat));
  });
});
