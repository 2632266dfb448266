import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  chargingForm,
  readChargingForm,
  rowsOf,
  toldAtRows,
  withMoreRows,
  withPastedRows,
} from '@/lib/capture/chargingForm';
import { chargingValues, withSoundCurve } from '@/lib/capture/chargingSheet';
import { InvalidInput } from '@/lib/run/errors';
import { parseForm } from '@/lib/run/parseForm';

const schema = withSoundCurve(z.object(chargingValues));
const SOURCE = { source: 'Data sheet, page 4' };

/** The fields at which a form is refused, top to bottom; none where it is taken. */
function refusedAt(form: Record<string, string>): string[] {
  const { input, issues, told, rows } = readChargingForm(form);
  try {
    parseForm(schema, { input, issues, told });
    return [];
  } catch (error) {
    const at = toldAtRows(error, rows);
    if (!(at instanceof InvalidInput)) throw error;
    for (const { what, why, fix } of at.issues)
      expect(Math.min(what.length, why.length, fix.length)).toBeGreaterThan(5);
    return at.issues.map(({ path }) => path);
  }
}

describe('a form of a charging curve', () => {
  it('is read by rows, those left empty passed over', () => {
    const form = {
      charge2: '10',
      power2: '120,5',
      charge5: '80',
      power5: '60',
      peakPowerW: '125',
      ...SOURCE,
    };
    const { input, issues, rows } = readChargingForm(form);
    expect(issues).toEqual([]);
    expect(input).toEqual({
      points: [
        { charge: 0.1, powerW: 120_500 },
        { charge: 0.8, powerW: 60_000 },
      ],
      peakPowerW: 125_000,
      ...SOURCE,
    });
    expect(rows).toEqual([2, 5]);
    expect(refusedAt(form)).toEqual([]);
  });

  it('is refused beside the field that is at fault', () => {
    const two = { charge1: '10', power1: '120', charge3: '80', power3: '60', ...SOURCE };
    expect(refusedAt(SOURCE)).toEqual(['peakPowerW']);
    expect(refusedAt({ ...two, source: ' ' })).toEqual(['source']);
    expect(refusedAt({ ...two, power3: '' })).toEqual(['power3']);
    expect(refusedAt({ ...two, charge3: '10' })).toEqual(['charge3']);
    expect(refusedAt({ ...two, charge3: '101' })).toEqual(['charge3']);
    expect(refusedAt({ ...two, power3: '0' })).toEqual(['power3']);
    expect(refusedAt({ ...two, power3: '2500' })).toEqual(['power3']);
    expect(refusedAt({ ...two, power3: 'much', peakPowerW: '1e9' })).toEqual(['power3', 'peakPowerW']);
    expect(refusedAt({ ...two, peakPowerW: '119' })).toEqual(['peakPowerW']);
    expect(refusedAt({ charge4: '10', power4: '120', ...SOURCE })).toEqual(['charge4']);
    expect(refusedAt({ ...two, usableCapacityWh: '0.5' })).toEqual(['usableCapacityWh']);
  });

  it('gives back what is on file, but no source', () => {
    const stated = {
      points: [
        { charge: 0.07, powerW: 123_400 },
        { charge: 0.29, powerW: 61_000 },
      ],
      peakPowerW: 130_000,
      usableCapacityWh: 77_300,
    };
    const { points, ...others } = stated;
    expect(readChargingForm(chargingForm(stated)).input).toEqual({ points, ...others, source: undefined });
    expect(refusedAt(chargingForm(stated))).toEqual(['source']);
  });

  it('has twelve rows, more on demand, and never more than sixty', () => {
    expect(rowsOf({})).toHaveLength(12);
    expect(rowsOf(withMoreRows({}))).toHaveLength(24);
    for (const rows of ['99999999999999999999', '61', '1e309'])
      expect(rowsOf({ rows }).length).toBeLessThan(61);
    for (const rows of ['-1', 'NaN', '__proto__', '3']) expect(rowsOf({ rows })).toHaveLength(12);
    expect(rowsOf(withMoreRows({ rows: '60' }))).toHaveLength(60);
  });
});

describe('rows out of a table', () => {
  it('follow those that are filled, as they were typed', () => {
    const pasted = '10 %\t120,5 kW\n40;118\r\n\n60, 90\n80 60.0';
    const { values, issues } = withPastedRows({ charge1: '5', power1: '121', pasted });
    expect(issues).toEqual([]);
    expect(values).toMatchObject({
      charge1: '5',
      charge2: '10',
      power2: '120,5',
      charge4: '60',
      power5: '60.0',
    });
    expect(values.pasted).toBe('');
    expect(readChargingForm({ ...values, ...SOURCE }).input.points.map(({ powerW }) => powerW)).toEqual([
      121_000, 120_500, 118_000, 90_000, 60_000,
    ]);
  });

  it('make as many rows as they need, and what is none stays', () => {
    const lines = Array.from({ length: 80 }, (_, index) => `${index} ${200 - index}`);
    const { values, issues } = withPastedRows({ pasted: ['charge power', ...lines].join('\n') });
    expect(rowsOf(values)).toHaveLength(60);
    expect(values).toMatchObject({ charge60: '59', power60: '141' });
    expect(values.pasted?.split('\n')).toEqual(['charge power', ...lines.slice(60)]);
    expect(issues.map(({ path }) => path)).toEqual(['pasted']);
  });
});

it('whatever stands in a field, the form is taken or refused with a sentence', () => {
  const name = fc.constantFrom('charge1', 'power1', 'charge1Unit', 'peakPowerW', 'pasted', 'rows', 'source');
  const text = fc.oneof(
    fc.constantFrom('__proto__', 'constructor', 'a\0b', '\ud800', '1e309', '99999999999999999999', '-1'),
    fc.string({ unit: 'binary', maxLength: 40 }),
  );
  fc.assert(
    fc.property(fc.dictionary(name, text), (typed) => {
      const form = { charge1: '10', power1: '120', ...typed };
      refusedAt(form);
      const { values } = withPastedRows(withMoreRows(form));
      expect(Object.values(values).every((value) => typeof value === 'string')).toBe(true);
      expect(Object.keys(Object.prototype)).toEqual([]);
    }),
  );
});
