import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UNIT_CHOICES } from '@/lib/units/display';
import { percentEndsIn, percentIn, senseOf } from '@/lib/units/sense';
import { fromCanonical } from '@/lib/units/unit';

const aUnit = fc.constantFrom(...UNIT_CHOICES.consumption);
const aConsumption = fc.double({ min: 60, max: 600, noNaN: true });

describe('the sense of a unit', () => {
  it('keeps the order of setups in every unit, best first', () => {
    fc.assert(
      fc.property(fc.uniqueArray(aConsumption, { minLength: 2, maxLength: 12 }), aUnit, (setups, unit) => {
        const best = (a: number, b: number) =>
          senseOf(unit).isHigherBetter
            ? fromCanonical(b, unit) - fromCanonical(a, unit)
            : fromCanonical(a, unit) - fromCanonical(b, unit);
        const byUnit = [...setups].sort(best).map((x) => fromCanonical(x, unit));
        const byConsumption = [...setups].sort((a, b) => a - b).map((x) => fromCanonical(x, unit));
        expect(byUnit).toEqual(byConsumption);
      }),
    );
  });

  it('states a difference as the ratio of what the unit shows', () => {
    // 200 against 190 Wh/km: 5 % less is 5.263 % further, since 1/0.95 = 1.05263
    expect(percentIn('Wh/km', -5)).toBe(-5);
    expect(percentIn('mi/kWh', -5)).toBeCloseTo(5.263157894736842, 12);
    expect(percentIn('km/kWh', 0)).toBe(0);
    expect(() => percentIn('mi/kWh', -100)).toThrow(RangeError);
    fc.assert(
      fc.property(aConsumption, aConsumption, aUnit, (a, b, unit) => {
        const shown = 100 * (fromCanonical(b, unit) / fromCanonical(a, unit) - 1);
        expect(percentIn(unit, 100 * (b / a - 1))).toBeCloseTo(shown, 8);
      }),
    );
  });

  it('turns the ends of an interval round, so that it still holds its estimate', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -30, max: 30, noNaN: true }),
        fc.double({ min: 0.01, max: 20, noNaN: true }),
        aUnit,
        (percent, half, unit) => {
          const [low, high] = percentEndsIn(unit, [percent - half, percent + half]);
          expect(low).toBeLessThan(percentIn(unit, percent));
          expect(percentIn(unit, percent)).toBeLessThan(high);
          // what leaves no difference out in one unit does so in all
          expect(low > 0 || high < 0).toBe(percent - half > 0 || percent + half < 0);
        },
      ),
    );
  });

  it('never contradicts itself: less energy is further, in sign', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -50, max: 50, noNaN: true }).filter((x) => x !== 0),
        aUnit,
        (percent, unit) => {
          const shown = percentIn(unit, percent);
          const isBetter = senseOf(unit).isHigherBetter ? shown > 0 : shown < 0;
          expect(isBetter).toBe(percent < 0);
        },
      ),
    );
  });
});
