import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ESTIMATE_CHOICES, ESTIMATE_DEFAULTS, ESTIMATE_NUMBERS } from '@/lib/run/estimate/estimateFields';
import { parseEstimate } from '@/lib/run/estimate/parseEstimate';
import { unitFieldName } from '@/lib/run/numberField';

const askedOf = (form: Record<string, string>) => {
  const parsed = parseEstimate(form);
  if (!parsed.ok) throw new Error(parsed.issues.map(({ what }) => what).join(' '));
  return parsed.asked;
};
const pathsOf = (form: Record<string, string>) => {
  const parsed = parseEstimate(form);
  return parsed.ok ? [] : parsed.issues.map(({ path }) => path);
};

describe('what an address asks', () => {
  it('stands at reference conditions where nothing is said', () => {
    expect(askedOf({})).toEqual({
      ...ESTIMATE_DEFAULTS,
      climate: 'reference',
      windFrom: 'any',
      way: 'one',
    });
    // what is empty is not said
    expect(askedOf({ air: '', trip: ' ', climate: '' })).toEqual(askedOf({}));
  });

  it('is read in the unit that stands beside it, with either decimal mark', () => {
    const asked = askedOf({
      speed: '70',
      speedUnit: 'mph',
      air: '−4',
      airUnit: 'degF',
      trip: '62,5',
      tripUnit: 'mi',
      start: '90',
      stop: '7.5',
      homePrice: '0,31',
    });
    // the mile is exactly 1609.344 m (NIST SP 811)
    expect(asked.speed).toBeCloseTo((70 * 1609.344) / 3600, 12);
    expect(asked.air).toBeCloseTo(-20, 12);
    expect(asked.trip).toBeCloseTo(62.5 * 1609.344, 9);
    expect([asked.start, asked.stop, asked.homePrice]).toEqual([0.9, 450, 0.31]);
  });

  it('has each fault told at its field, all of them at once', () => {
    expect(
      pathsOf({ speed: 'fast', trip: '-3', windFrom: 'above', start: '80', arrive: '80' }).sort(),
    ).toEqual(['speed', 'trip', 'windFrom']);
    expect(pathsOf({ speed: '110', speedUnit: 'furlong' })).toEqual(['speedUnit']);
  });

  it.each<[string, Record<string, string>, string]>([
    ['arrives no fuller than it left', { start: '30', arrive: '30' }, 'arrive'],
    ['charges upwards', { low: '50', high: '50' }, 'high'],
    ['charges as far as it has to arrive with', { arrive: '60', high: '50' }, 'high'],
    ['says how sure a measured capacity is', { capacity: '70' }, 'capacityOff'],
    ['measures a capacity', { capacity: '70', capacityOff: '30' }, 'capacityOff'],
    ['ends as high as it began where it comes back', { way: 'back', climb: '-200' }, 'climb'],
    ['knows the air in one way', { pressure: '990', altitude: '400' }, 'altitude'],
  ])('%s', (_, form, path) => {
    expect(pathsOf(form)).toEqual([path]);
  });

  it('never throws, whatever stands in it, and takes nothing that lies outside its fences', () => {
    const names = [
      ...ESTIMATE_NUMBERS.flatMap(({ name }) => [name, unitFieldName(name)]),
      ...ESTIMATE_CHOICES.map(({ name }) => name),
      '__proto__',
      'constructor',
    ];
    const text = fc.oneof(
      fc.string(),
      fc.constantFrom(
        '-1',
        '1e309',
        'NaN',
        '99999999999999999999',
        '\0',
        '12',
        '0.5',
        '80',
        'km',
        '%',
        'back',
      ),
    );
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom(...names), text), (form) => {
        const parsed = parseEstimate(form);
        if (!parsed.ok) {
          expect(parsed.issues.length).toBeGreaterThan(0);
          return;
        }
        const values: Record<string, unknown> = parsed.asked;
        for (const { name, range } of ESTIMATE_NUMBERS) {
          const value = values[name];
          if (value === undefined) continue;
          expect(value).toBeGreaterThanOrEqual(range[0]);
          expect(value).toBeLessThanOrEqual(range[1]);
        }
      }),
    );
  });
});
