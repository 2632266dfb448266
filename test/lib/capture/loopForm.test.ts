import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LOOP_DEFAULTS, parseLoopForm } from '@/lib/capture/loopForm';
import { addLoopSchema } from '@/lib/registry/loops/addLoop';
import { InvalidInput } from '@/lib/run/errors';
import { parseForm } from '@/lib/run/parseForm';

const straight = {
  name: 'Skerry coast',
  region: 'East',
  turnaround: 'Junction 9',
  lengthSource: 'map',
  lengthM: '52.7',
  lengthMUnit: 'km',
  lengthUncertaintyM: '50',
  altitudeM: '12',
  closureDistanceM: '40',
  closureHeightM: '0.5',
  sharedRouteShare: '99',
  offCruiseShare: '5',
  postedLimitMps: '110',
  outboundBearing0: '40',
  outboundShare0: '100',
};

const pathsOf = (form: Record<string, string>) => parseLoopForm(form).issues.map((issue) => issue.path);

describe('the form of a loop', () => {
  it('becomes what the use case takes, the way back turned by 180°', () => {
    const input = parseForm(addLoopSchema, parseLoopForm(straight));
    expect(input.lengthM).toBe(52_700);
    expect(input.postedLimitMps).toBeCloseTo(110 / 3.6, 9);
    expect(input.bearings).toEqual([
      { bearingDeg: 40, share: 0.5 },
      { bearingDeg: 220, share: 0.5 },
    ]);
    expect(input.legs).toEqual([]);
  });

  it('keeps the legs where the height of the turnaround is known, and closes the climb', () => {
    const form = { ...straight, outboundLengthM: '26', outboundClimbM: '18', netClimbM: '-1' };
    const { legs, bearings } = parseForm(addLoopSchema, parseLoopForm(form));
    expect(legs).toEqual([
      { direction: 'outbound', lengthM: 26_000, netClimbM: 18, bearings: [{ bearingDeg: 40, share: 1 }] },
      { direction: 'return', lengthM: 26_700, netClimbM: -19, bearings: [{ bearingDeg: 220, share: 1 }] },
    ]);
    expect(bearings[0]?.share).toBeCloseTo(26 / 52.7, 12);
  });

  it('takes the way back as given', () => {
    const form = { ...straight, returnBearing0: '200', returnShare0: '100' };
    expect(parseLoopForm(form).input.bearings[1]).toEqual({ bearingDeg: 200, share: 0.5 });
  });

  it('tells every fault at its own field', () => {
    expect(pathsOf({ ...straight, outboundBearing0: '', outboundShare0: '' })).toEqual(['outboundBearing0']);
    expect(pathsOf({ ...straight, outboundShare0: '60' })).toEqual(['outboundShare0']);
    expect(pathsOf({ ...straight, outboundBearing0: '400' })).toEqual(['outboundBearing0']);
    expect(pathsOf({ ...straight, outboundShare0: '' })).toEqual(['outboundShare0']);
    expect(pathsOf({ ...straight, outboundLengthM: '60' })).toEqual(['outboundLengthM']);
    expect(pathsOf({ ...straight, lengthM: '' })).toContain('lengthM');
  });

  it('gives shares that add up to one for any split of the legs', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 1, maxLength: 8 }),
        fc.integer({ min: 1, max: 520 }),
        (parts, outboundTenths) => {
          const sum = parts.reduce((total, part) => total + part, 0);
          const rows = parts.flatMap((part, row) => [
            [`outboundBearing${row}`, String(row * 40)],
            [`outboundShare${row}`, ((100 * part) / sum).toFixed(3)],
          ]);
          const form = {
            ...straight,
            ...Object.fromEntries(rows),
            outboundLengthM: String(outboundTenths / 10),
          };
          const { input } = parseLoopForm(form);
          const total = input.bearings.reduce((all, { share }) => all + share, 0);
          expect(total).toBeCloseTo(1, 9);
          expect(input.bearings).toHaveLength(2 * parts.length);
        },
      ),
    );
  });
});

it('tells unreadable numbers and missing texts together, each field once', () => {
  const form = parseLoopForm({ ...straight, name: '', lengthM: 'far' });
  expect(() => parseForm(addLoopSchema, form)).toThrow(
    expect.objectContaining({
      issues: [expect.objectContaining({ path: 'name' }), expect.objectContaining({ path: 'lengthM' })],
    }),
  );
});

it('tells a missing direction at its row alone, not once more under the schema’s name', () => {
  const form = parseLoopForm({ ...straight, outboundBearing0: '', outboundShare0: '' });
  expect(() => parseForm(addLoopSchema, form)).toThrow(
    expect.objectContaining({ issues: [expect.objectContaining({ path: 'outboundBearing0' })] }),
  );
});

/** What the form is told in the end, the schema’s issues among them. */
function told(form: Record<string, string>): string[] {
  try {
    parseForm(addLoopSchema, parseLoopForm(form));
    return [];
  } catch (error) {
    return error instanceof InvalidInput ? error.issues.map(({ path }) => path) : ['another error'];
  }
}

describe('a loop by hand', () => {
  it('asks in words how well the length is known, and takes a share of it', () => {
    const { lengthUncertaintyM: _, lengthSource: __, ...asked } = straight;
    const known = (lengthKnown: string, more: Record<string, string> = {}) =>
      parseForm(addLoopSchema, parseLoopForm({ ...asked, lengthKnown, ...more }));
    expect(known('map')).toMatchObject({ lengthUncertaintyM: 263.5, lengthSource: 'measured on a map' });
    expect(known('recordings').lengthUncertaintyM).toBeCloseTo(52.7, 9);
    expect(known('tripMeter', { lengthSource: 'own words' })).toMatchObject({
      lengthUncertaintyM: 1054,
      lengthSource: 'own words',
    });
    expect(known('stated', { lengthUncertaintyM: '80', lengthSource: 'survey' }).lengthUncertaintyM).toBe(80);
    // A form that never asks for words has its number as before.
    expect(known('', { lengthUncertaintyM: '80', lengthSource: 'survey' }).lengthUncertaintyM).toBe(80);
    expect(pathsOf({ ...asked, lengthKnown: '' })).toEqual(['lengthKnown']);
    expect(told({ ...asked, lengthKnown: '' })).toEqual(['lengthKnown']);
    expect(pathsOf({ ...asked, lengthKnown: 'stated' })).toEqual(['lengthSource', 'lengthUncertaintyM']);
    expect(pathsOf({ ...asked, lengthKnown: 'map', lengthM: '' })).toEqual(['lengthM']);
    expect(pathsOf(asked)).toEqual(['lengthSource', 'lengthUncertaintyM']);
  });

  it('begins with what most loops are like', () => {
    const {
      closureDistanceM: _,
      closureHeightM: __,
      sharedRouteShare: ___,
      offCruiseShare: ____,
      ...rest
    } = straight;
    expect(pathsOf({ ...rest, ...LOOP_DEFAULTS })).toEqual([]);
  });
});
