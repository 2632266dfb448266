import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readBearings, readDisplayUnits, readElevation, readForm, readOutline } from '@/lib/run/stored';

const throughJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));
const metres = fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((value) => value + 0);

describe('a loop’s stored shape', () => {
  it('is read as it was written', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ bearingDeg: metres, share: fc.double({ min: 0, max: 1, noNaN: true }) })),
        fc.array(fc.record({ x: metres, y: metres })),
        fc.array(fc.record({ distanceM: metres, heightM: metres })),
        (bearings, outline, elevation) => {
          expect(readBearings(throughJson(bearings))).toEqual(throughJson(bearings));
          expect(readOutline(throughJson(outline))).toEqual(throughJson(outline));
          expect(readElevation(throughJson(elevation))).toEqual(throughJson(elevation));
        },
      ),
    );
  });

  it('is read without what nobody knows, and is empty where nothing was stored', () => {
    expect(readBearings([{ bearingDeg: 20, share: 1, label: 'out' }])).toEqual([
      { bearingDeg: 20, share: 1 },
    ]);
    expect(readOutline(null)).toEqual([]);
    expect(readElevation(null)).toEqual([]);
  });

  it('is read whole or not at all', () => {
    expect(readBearings([{ bearingDeg: 20, share: 0.5 }, { bearingDeg: 200 }])).toEqual([]);
    expect(readBearings([{ bearingDeg: 20, share: -0.5 }])).toEqual([]);
    expect(readOutline([{ x: 1, y: 2 }, [3, 4]])).toEqual([]);
    expect(readElevation([{ distanceM: 0, heightM: '12' }])).toEqual([]);
  });
});

describe('a stored form', () => {
  it('is read as it was typed, whatever its fields are called', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.string()), (form) => {
        const { ['__proto__']: _, ...typed } = form;
        expect(readForm(throughJson(typed))).toEqual(typed);
      }),
    );
  });

  it('keeps its texts beside something that nobody can have typed', () => {
    expect(readForm({ tripDistance: '87', stops: 3, notes: null })).toEqual({ tripDistance: '87' });
  });
});

describe('units kept with a car', () => {
  it('are those that the form offers', () => {
    expect(readDisplayUnits({ tripDistance: 'mi', tripEnergy: 'mi', stray: 'km' })).toEqual({
      tripDistance: 'mi',
    });
    expect(readDisplayUnits(null)).toEqual({});
  });
});

it('nothing that stands in a column makes a reader throw', () => {
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      for (const read of [readBearings, readOutline, readElevation]) {
        expect(Array.isArray(read(value))).toBe(true);
      }
      expect(Object.values(readForm(value)).every((text) => typeof text === 'string')).toBe(true);
      expect(Object.values(readDisplayUnits(value)).every((unit) => typeof unit === 'string')).toBe(true);
    }),
  );
});
