import { describe, expect, it } from 'vitest';
import { CRUISE_CLASSES, cruiseClassByKey, isWithinPostedLimit } from '@/lib/run/cruiseClass';

describe('cruise classes', () => {
  /** NIST SP 811, B.8: 1 km/h = 0.277 777 8 m/s, 1 mph = 0.447 04 m/s (exact). */
  it.each([
    ['kmh-80', 80 * 0.2777778],
    ['kmh-90', 90 * 0.2777778],
    ['kmh-100', 100 * 0.2777778],
    ['kmh-110', 110 * 0.2777778],
    ['kmh-120', 120 * 0.2777778],
    ['kmh-130', 130 * 0.2777778],
    ['mph-60', 60 * 0.44704],
    ['mph-65', 65 * 0.44704],
    ['mph-70', 70 * 0.44704],
    ['mph-75', 75 * 0.44704],
  ])('%s is %d m/s', (key, speedMps) => {
    // the table's factor for km/h is rounded at its seventh digit: 130 × 3·10⁻⁸ m/s
    expect(Math.abs((cruiseClassByKey(key)?.speedMps ?? 0) - speedMps)).toBeLessThan(4e-6);
  });

  it('rise in speed in their order, with keys of their own', () => {
    const speeds = CRUISE_CLASSES.map((cruiseClass) => cruiseClass.speedMps);
    expect(speeds).toEqual([...speeds].sort((a, b) => a - b));
    expect(CRUISE_CLASSES.map((cruiseClass) => cruiseClass.ordinal)).toEqual(
      CRUISE_CLASSES.map((_, i) => i + 1),
    );
    expect(new Set(CRUISE_CLASSES.map((cruiseClass) => cruiseClass.key)).size).toBe(10);
    for (const cruiseClass of CRUISE_CLASSES) expect(cruiseClassByKey(cruiseClass.key)).toBe(cruiseClass);
  });

  it('know no other key', () => {
    expect(cruiseClassByKey('kmh-111')).toBeUndefined();
    expect(cruiseClassByKey('')).toBeUndefined();
  });
});

describe('the posted limit', () => {
  const class110 = cruiseClassByKey('kmh-110');
  it.each([
    ['a limit of the same number', 110 / 3.6, true],
    ['the same number rounded', 30.55, true],
    ['a higher limit', 120 / 3.6, true],
    ['a limit one km/h lower', 109 / 3.6, false],
  ])('%s', (_name, postedLimitMps, expected) => {
    if (class110 === undefined) throw new Error('no such class');
    expect(isWithinPostedLimit(class110, postedLimitMps)).toBe(expected);
  });
});
