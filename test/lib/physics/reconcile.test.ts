import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CHARGE_DIFFERENCE_U_SHARE,
  chiSquareUpperTail,
  energyFromCharge,
  energyFromCharger,
  energyFromConsumption,
  energyFromDisplay,
  reconcileEnergy,
} from '@/lib/physics/reconcile';

describe('weighted mean of estimates with known variances', () => {
  it('is the fixed-effect estimate of metafor 3.8-1 on dat.bcg (Colditz et al. 1994)', () => {
    const rows = readFileSync('test/reference/stats/data/dat_bcg.csv', 'utf8').trim().split('\n').slice(1);
    const published = JSON.parse(readFileSync('test/reference/stats/results/metafor_bcg.json', 'utf8')) as {
      FE: { b: number; se: number; QE: number; QEp: number };
    };
    const readings = rows.map((line) => {
      const [trial = '', yi, vi] = line.split(',');
      return { label: trial, energyWh: Number(yi), uWh: Math.sqrt(Number(vi)), isCounter: false };
    });
    expect(readings).toHaveLength(13);
    const result = reconcileEnergy(readings);
    expect(result.energyWh).toBeCloseTo(published.FE.b, 12);
    expect(result.uInternalWh).toBeCloseTo(published.FE.se, 12);
    expect(result.chiSquare).toBeCloseTo(published.FE.QE, 9);
    expect(result.pValue / published.FE.QEp).toBeCloseTo(1, 8);
    expect(result.birgeRatio).toBeCloseTo(Math.sqrt(published.FE.QE / 12), 9);
    expect(result.uWh).toBeCloseTo(published.FE.se * Math.sqrt(published.FE.QE / 12), 9);
    expect(result.disagreeing).not.toBeNull();
  });
});

describe('upper tail of chi-square', () => {
  // critical values of the printed tables (Abramowitz and Stegun, table 26.8; NIST handbook 1.3.6.7.4)
  it.each([
    [3.841, 1, 0.05],
    [6.635, 1, 0.01],
    [5.991, 2, 0.05],
    [11.345, 3, 0.01],
    [13.277, 4, 0.01],
    [18.307, 10, 0.05],
    [24.725, 11, 0.01],
  ])('at %d with %d degrees of freedom is %d', (x, dof, tail) => {
    // the tables print three decimals of x
    expect(Math.abs(chiSquareUpperTail(x, dof) - tail)).toBeLessThan(1.5e-5);
  });

  it('falls from 1 and rises with the degrees of freedom', () => {
    expect(chiSquareUpperTail(0, 3)).toBe(1);
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 60, noNaN: true }),
        fc.integer({ min: 1, max: 12 }),
        (x, dof) => {
          expect(chiSquareUpperTail(x + 0.1, dof)).toBeLessThan(chiSquareUpperTail(x, dof));
          expect(chiSquareUpperTail(x, dof + 1)).toBeGreaterThan(chiSquareUpperTail(x, dof));
        },
      ),
    );
  });
});

describe('several readings of one energy', () => {
  const shown = energyFromDisplay(32_900, 50);
  const byConsumption = energyFromConsumption(306.1, 0.8, 107_500, 100);
  const byCharge = energyFromCharge(0.8, 0.37, 76_500, 1000);
  const byCharger = energyFromCharger(35_800, 50, 'dc');

  it('agree for a run whose numbers hold together', () => {
    const result = reconcileEnergy([shown, byConsumption, byCharge, byCharger]);
    expect(result.disagreeing).toBeNull();
    expect(result.dof).toBe(3);
    expect(result.energyWh).toBeGreaterThan(32_800);
    expect(result.energyWh).toBeLessThan(33_000);
    expect(result.uInternalWh).toBeLessThan(shown.uWh);
  });

  it('35.8 kWh delivered for 32.9 used is a loss of about 8 % (common practice, no source)', () => {
    expect(1 - 32.9 / 35.8).toBeCloseTo(0.08, 2);
    expect(byCharger.energyWh).toBeCloseTo(32_936, 6);
  });

  it('name the one that does not fit', () => {
    const swapped = energyFromDisplay(39_200, 50); // 32.9 misread as 39.2
    const result = reconcileEnergy([swapped, byConsumption, byCharge, byCharger]);
    expect(result.pValue).toBeLessThan(0.01);
    // the sharpest reading pulls the mean: what disagrees most with it is named by its standardised residual
    const sizes = result.readings.map((reading) => Math.abs(reading.standardisedResidual));
    expect(Math.abs(result.disagreeing?.standardisedResidual ?? 0)).toBe(Math.max(...sizes));
    expect(result.disagreeing?.label).toBe('energy shown');
    expect(result.uWh).toBeGreaterThan(result.uInternalWh);
  });

  it('take charge and charger as checks, which move nothing and widen nothing', () => {
    const display = reconcileEnergy([shown, byConsumption]);
    const all = reconcileEnergy([shown, byConsumption, byCharge, energyFromCharger(45_000, 50, 'dc')]);
    expect(all.energyWh).toBe(display.energyWh);
    expect(all.uWh).toBe(display.uWh);
    expect(all.disagreeing?.label).toContain('charger');
    expect(all.readings.map(({ isAveraged }) => isAveraged)).toEqual([true, true, false, false]);
    // without a counter there is nothing else to go by
    expect(reconcileEnergy([byCharge, byCharger]).readings.every(({ isAveraged }) => isAveraged)).toBe(true);
  });

  it('widen by the Birge ratio only where the test fails at 1 %', () => {
    const at = (apart: number) =>
      reconcileEnergy([
        { label: 'a', energyWh: 30_000, uWh: 50, isCounter: true },
        { label: 'b', energyWh: 30_000 + apart * 50 * Math.SQRT2, uWh: 50, isCounter: true },
      ]);
    // one degree of freedom: 1 % two-sided is 2.576 standard deviations of the difference
    expect(at(2.5).uWh).toBe(at(2.5).uInternalWh);
    expect(at(2.65).uWh).toBeCloseTo(2.65 * at(2.65).uInternalWh, 6);
  });

  it('have the χ² of generalised least squares with the shared scale: checked by the covariance matrix', () => {
    const counter = [32_700, 32_760];
    const check = 31_500;
    const uScale = 0.01;
    const readings = [
      { label: 'a', energyWh: counter[0] as number, uWh: 60, isCounter: true },
      { label: 'b', energyWh: counter[1] as number, uWh: 60, isCounter: true },
      { label: 'c', energyWh: check, uWh: 900, isCounter: false },
    ];
    const s = uScale * 32_730;
    // residuals of the contrasts (a − b) and (mean − c) are independent here: their squares over their variances
    const chiSquare =
      ((counter[0] as number) - (counter[1] as number)) ** 2 / (2 * 60 ** 2) +
      (32_730 - check) ** 2 / (60 ** 2 / 2 + s ** 2 + 900 ** 2);
    expect(reconcileEnergy(readings, uScale).chiSquare).toBeCloseTo(chiSquare, 9);
  });

  it('of one is itself', () => {
    expect(reconcileEnergy([shown])).toMatchObject({
      energyWh: expect.closeTo(32_900, 8),
      uWh: expect.closeTo(shown.uWh, 10),
      birgeRatio: null,
      disagreeing: null,
      pValue: 1,
    });
    expect(() => reconcileEnergy([])).toThrow(RangeError);
    expect(() => reconcileEnergy([{ label: 'x', energyWh: 1, uWh: 0, isCounter: true }])).toThrow(RangeError);
  });

  it('lie within their range, whatever their order, and are never less certain for one more that fits', () => {
    const reading = fc.record({
      label: fc.constant('r'),
      energyWh: fc.double({ min: 10_000, max: 40_000, noNaN: true }),
      uWh: fc.double({ min: 10, max: 1000, noNaN: true }),
      isCounter: fc.constant(true),
    });
    fc.assert(
      fc.property(fc.array(reading, { minLength: 2, maxLength: 6 }), (readings) => {
        const result = reconcileEnergy(readings);
        const values = readings.map((one) => one.energyWh);
        expect(result.energyWh).toBeGreaterThanOrEqual(Math.min(...values) - 1e-6);
        expect(result.energyWh).toBeLessThanOrEqual(Math.max(...values) + 1e-6);
        const turned = reconcileEnergy([...readings].reverse());
        expect(turned.energyWh).toBeCloseTo(result.energyWh, 6);
        const more = reconcileEnergy([
          ...readings,
          { label: 'fits', energyWh: result.energyWh, uWh: 100, isCounter: true },
        ]);
        expect(more.uInternalWh).toBeLessThan(result.uInternalWh);
      }),
    );
  });

  it('take a charge difference as known to 0.41 points (two readings to a whole point)', () => {
    expect(CHARGE_DIFFERENCE_U_SHARE * 100).toBeCloseTo(0.41, 2);
  });
});
