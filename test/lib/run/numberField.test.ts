import { describe, expect, it } from 'vitest';
import { CALIBRATION_NUMBERS, CAR_NUMBERS, MODEL_NUMBERS } from '@/lib/capture/vehicleFields';
import { type NumberField, parseNumbers } from '@/lib/run/numberField';
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

  it('are refused in a unit that the field does not have', () => {
    const parsed = parseNumbers({ placardFrontPa: '2.5', placardFrontPaUnit: 'kWh' }, [pressure]);
    expect(parsed.values).toEqual({});
    expect(parsed.issues.map(({ path }) => path)).toEqual(['placardFrontPaUnit']);
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
    // 700 kPa over 6.894757 kPa (NIST SP 811, B.8) is 101.5 psi, 100 kPa is 14.5 psi.
    const inPsi = parseNumbers({ placardFrontPa: '2.9', placardFrontPaUnit: 'psi' }, [pressure]).issues[0];
    expect(inPsi?.why).toBe('It lies between 14.5 and 102 psi.');
    expect(inPsi?.fix).toBe('Check the digits; in bar it would be possible.');
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
