import { describe, expect, it } from 'vitest';
import { seededRandom } from '@/lib/numerics/seededRandom';
import { estimatePriors } from '@/lib/physics/estimate/estimatePriors';
import { rangeDifference, rangeOf } from '@/lib/physics/estimate/range';
import { usableEnergy, warmCapacity } from '@/lib/physics/estimate/usableEnergy';
import { allPriors } from '@/lib/physics/priors';

const battery = { basis: 'new', capacityWh: 80_000 } as const;
const charge = { battery, fromCharge: 0.8, toCharge: 0.1, batteryTemperatureC: 0 };

describe('usable energy', () => {
  // by hand: 0.95 · 80 kWh · 0.7 · (1 − 0.003 · 10) = 51.604 kWh; u = 53.2·√((0.03/0.95·0.97)² + 0.02²)
  it('is 95 % of that when new, less 0.3 % a kelvin below 10 °C', () => {
    const found = usableEnergy(charge);
    expect(found.value).toBeCloseTo(51_604, 6);
    expect(found.u).toBeCloseTo(53_200 * Math.hypot((0.03 / 0.95) * 0.97, 0.02), 3);
    expect(usableEnergy({ ...charge, batteryTemperatureC: 25 }).value).toBeCloseTo(53_200, 6);
    expect(usableEnergy({ ...charge, batteryTemperatureC: 10 }).u).toBeCloseTo(0.7 * 2400, 6);
  });

  it('of a measured battery is what was measured', () => {
    expect(warmCapacity({ basis: 'measured', capacityWh: 71_000, uWh: 900 })).toEqual({
      capacityWh: 71_000,
      uWh: 900,
    });
  });

  it('is refused where the charge does not fall', () => {
    expect(() => usableEnergy({ ...charge, toCharge: 0.8 })).toThrow('lies above');
  });

  it('rests on priors that no published number rests on, each with a source and a range around it', () => {
    const labels = new Set(allPriors().map(({ label }) => label));
    for (const { label, value, low, high, source } of estimatePriors()) {
      expect(labels.has(label)).toBe(false);
      expect(source.length).toBeGreaterThan(5);
      expect(value >= low && value <= high).toBe(true);
    }
  });
});

describe('range', () => {
  const consumption = { log: Math.log(200), u: 0.025, df: 8 };

  it('is energy over consumption (by hand: 51.604 kWh at 200 Wh/km are 258.02 km)', () => {
    expect(rangeOf(consumption, charge).rangeM).toBeCloseTo(258_020, 4);
  });

  it('holds the truth in 95 of 100 worlds drawn from what it says it does not know', () => {
    const random = seededRandom(20);
    let inside = 0;
    const worlds = 4000;
    const df = 8;
    for (let k = 0; k < worlds; k++) {
      const capacity = (0.95 + 0.03 * random.nextNormal()) * 80_000;
      const cold = 0.003 + 0.002 * random.nextNormal();
      const truth = Math.log(200);
      // a mean and its own standard error, on 8 degrees of freedom
      let chi = 0;
      for (let i = 0; i < df; i++) chi += random.nextNormal() ** 2;
      const log = truth + 0.025 * random.nextNormal();
      const found = rangeOf({ log, u: 0.025 * Math.sqrt(chi / df), df }, charge);
      const range = (1000 * capacity * 0.7 * (1 - 10 * cold)) / Math.exp(truth);
      if (range >= found.interval95M[0] && range <= found.interval95M[1]) inside += 1;
    }
    // three standard errors of the count are 1.0 %
    expect(Math.abs(inside / worlds - 0.95)).toBeLessThan(0.012);
  });

  it('of two setups differs by far less than each is uncertain by, the battery being one', () => {
    const [a, b] = [rangeOf(consumption, charge), rangeOf({ ...consumption, log: Math.log(194) }, charge)];
    // consumptions that share all but 0.6 %
    const shared = Math.sqrt(0.025 ** 2 - 0.006 ** 2 / 2);
    const found = rangeDifference(a, b, ([x, y]) => ({
      u: Math.hypot((x + y) * shared, (x * 0.006) / Math.SQRT2, (y * 0.006) / Math.SQRT2),
      df: 20,
    }));
    expect(found.differenceM).toBeCloseTo(a.rangeM - b.rangeM, 6);
    expect(found.uM).toBeLessThan(0.2 * Math.hypot(a.relativeU * a.rangeM, b.relativeU * b.rangeM));
    expect(found.uM).toBeGreaterThan(0.006 * a.rangeM * 0.9);
  });
});
