import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fieldsOnPhoto } from '@/lib/capture/blindEntry';
import { PHOTO_FIELDS } from '@/lib/run/fields/table';
import {
  type Box,
  boxBetween,
  centredOn,
  markedPhoto,
  moved,
  partAround,
  photoMarksSchema,
  resized,
} from '@/lib/run/photoMarks';
import { readMarks } from '@/lib/run/stored';

const mark = { field: 'tripEnergy', left: 0.5, top: 0.25, width: 0.2, height: 0.1 } as const;
const isKept = (marks: unknown) => photoMarksSchema.safeParse(marks).success;
const fits = (box: Box) => isKept([{ ...box, field: mark.field }]);
const anywhere = fc.record({
  x: fc.double({ min: -2, max: 3, noNaN: true }),
  y: fc.double({ min: -2, max: 3, noNaN: true }),
});

describe('a frame on a photo', () => {
  it.each([
    ['as drawn', [mark], true],
    ['up to the edges', [{ ...mark, left: 0, top: 0, width: 1, height: 1 }], true],
    ['beyond the right edge', [{ ...mark, left: 0.81 }], false],
    ['beyond the bottom', [{ ...mark, top: 0.91 }], false],
    ['before the left edge', [{ ...mark, left: -0.01 }], false],
    ['too small to hit', [{ ...mark, height: 0.019 }], false],
    ['of a reading that no form has', [{ ...mark, field: 'constructor' }], false],
    ['twice for one reading', [mark, { ...mark, left: 0 }], false],
    ['for two readings', [mark, { ...mark, field: 'tripDistance' }], true],
    ['of no number', [{ ...mark, left: Number.NaN }], false],
  ])('%s', (_, marks, expected) => {
    expect(isKept(marks)).toBe(expected);
  });

  it('between two corners is the same from either, and the drawn one where that fits', () => {
    const box = boxBetween({ x: 0.7, y: 0.25 }, { x: 0.5, y: 0.35 });
    expect(box.left).toBeCloseTo(0.5, 12);
    expect(box.width).toBeCloseTo(0.2, 12);
    expect(box.top).toBeCloseTo(0.25, 12);
    expect(box.height).toBeCloseTo(0.1, 12);
    fc.assert(
      fc.property(anywhere, anywhere, (one, other) => {
        expect(boxBetween(one, other)).toEqual(boxBetween(other, one));
      }),
    );
  });

  it('can be kept, wherever it is drawn, moved, sized and put', () => {
    fc.assert(
      fc.property(anywhere, anywhere, anywhere, (one, other, by) => {
        const box = boxBetween(one, other);
        for (const next of [box, moved(box, by), resized(box, by), centredOn(box, by), partAround(box)])
          expect(fits(next)).toBe(true);
        expect(moved(box, by)).toMatchObject({ width: box.width, height: box.height });
        expect(resized(box, by)).toMatchObject({ left: box.left, top: box.top });
      }),
    );
  });

  it('is shown with what is around it', () => {
    fc.assert(
      fc.property(anywhere, anywhere, (one, other) => {
        const box = boxBetween(one, other);
        const part = partAround(box);
        expect(part.left).toBeLessThanOrEqual(box.left);
        expect(part.top).toBeLessThanOrEqual(box.top);
        expect(part.left + part.width).toBeGreaterThanOrEqual(box.left + box.width - 1e-9);
        expect(part.top + part.height).toBeGreaterThanOrEqual(box.top + box.height - 1e-9);
      }),
    );
  });
});

describe('marks of a photo', () => {
  it('that cannot be read are left out, and the others stand', () => {
    expect(readMarks([mark, { ...mark, left: 2 }, null, 'x'])).toEqual([mark]);
    for (const odd of [null, {}, 'x', 3]) expect(readMarks(odd)).toEqual([]);
  });

  it('are of readings that such a photo can show', () => {
    for (const { value } of PHOTO_FIELDS) expect(fieldsOnPhoto(value).length).toBeGreaterThan(0);
    const names = fieldsOnPhoto('finishDisplay').map(({ name }) => name);
    expect(names).toContain('tripEnergy');
    expect(names).not.toContain('odometerStart');
    expect(fieldsOnPhoto('no such kind')).toEqual([]);
  });

  it('lead from a reading to the first photo that proves it', () => {
    const photos = [
      { id: 'a', marks: [] },
      { id: 'b', marks: [mark] },
      { id: 'c', marks: [{ ...mark, left: 0 }] },
    ];
    expect(markedPhoto(photos, 'tripEnergy')).toEqual({ photo: photos[1], mark });
    expect(markedPhoto(photos, 'tripDistance')).toBeUndefined();
  });
});
