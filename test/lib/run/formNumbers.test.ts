import { describe, expect, it } from 'vitest';
import { CALIBRATION_NUMBERS, CAR_NUMBERS, MODEL_NUMBERS } from '@/lib/capture/vehicleFields';
import { type NumberField, parseNumbers } from '@/lib/run/formNumbers';
import { UNITS } from '@/lib/units/unit';

const pressure: NumberField = {
  name: 'placardFrontPa',
  label: 'Placard pressure',
  hint: '',
  units: ['bar', 'psi'],
  isRequired: false,
  range: [100_000, 700_000],
};

describe('numbers of a form', () => {
  it('become canonical by the chosen unit, the first one where none is sent', () => {
    expect(parseNumbers({ placardFrontPa: '2,9' }, [pressure]).values.placardFrontPa).toBeCloseTo(290_000, 6);
    // 1 psi is 6894.757 Pa (NIST SP 811, B.8).
    const psi = parseNumbers({ placardFrontPa: '42', placardFrontPaUnit: 'psi' }, [pressure]);
    expect(psi.values.placardFrontPa).toBeCloseTo(42 * 6894.757, 0);
  });

  it('fall back to the first unit where another one is forged', () => {
    const parsed = parseNumbers({ placardFrontPa: '2.5', placardFrontPaUnit: 'kWh' }, [pressure]);
    expect(parsed.values.placardFrontPa).toBeCloseTo(250_000, 6);
  });

  it('read a pure number as it stands', () => {
    const [factor] = CALIBRATION_NUMBERS;
    if (factor === undefined) throw new Error('the calibration form asks for a factor');
    expect(parseNumbers({ factor: '0.986' }, [factor]).values).toEqual({ factor: 0.986 });
  });

  it.each([
    ['', false, []],
    ['', true, ['placardFrontPa']],
    ['two', false, ['placardFrontPa']],
    ['-2.5', false, ['placardFrontPa']],
    ['29', false, ['placardFrontPa']],
    ['2.9', true, []],
  ])('“%s” with required %s gives issues at %j', (text, isRequired, paths) => {
    const { issues } = parseNumbers({ placardFrontPa: text }, [{ ...pressure, isRequired }]);
    expect(issues.map((issue) => issue.path)).toEqual(paths);
  });

  it('tell the range in the unit that was chosen', () => {
    const { issues } = parseNumbers({ placardFrontPa: '29' }, [pressure]);
    expect(issues[0]?.why).toBe('It lies between 1 and 7 bar.');
  });
});

it('ask for each vehicle number in units of one dimension, under a name of its own', () => {
  for (const fields of [CAR_NUMBERS, MODEL_NUMBERS, CALIBRATION_NUMBERS]) {
    expect(new Set(fields.map((field) => field.name)).size).toBe(fields.length);
    for (const { units } of fields) {
      expect(new Set(units.map((unit) => UNITS[unit].dimension)).size).toBeLessThanOrEqual(1);
    }
  }
});
