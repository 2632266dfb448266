import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bandsOf, lanesOf } from '@/lib/stats/bands';

describe('bands of rows that cannot be told apart', () => {
  it('overlap where being told apart is not transitive: A as B and B as C, but A and C differ', () => {
    const apart = new Set(['0 2']);
    expect(bandsOf(3, (a, b) => !apart.has(`${a} ${b}`))).toEqual([
      { from: 0, to: 1 },
      { from: 1, to: 2 },
    ]);
  });

  it('are none where every two differ, and one where no two do', () => {
    expect(bandsOf(5, () => false)).toEqual([]);
    expect(bandsOf(5, () => true)).toEqual([{ from: 0, to: 4 }]);
    expect(bandsOf(0, () => true)).toEqual([]);
    expect(bandsOf(1, () => true)).toEqual([]);
  });

  const matrices = fc
    .integer({ min: 0, max: 9 })
    .chain((count) =>
      fc
        .array(fc.boolean(), { minLength: count * count, maxLength: count * count })
        .map((cells) => ({ count, cells })),
    );

  it('hold no two that differ, are as long as can be, and name every stretch that holds none', () => {
    fc.assert(
      fc.property(matrices, ({ count, cells }) => {
        const isTogether = (a: number, b: number) => cells[a * count + b] ?? false;
        const holds = (from: number, to: number) => {
          for (let a = from; a <= to; a++)
            for (let b = a + 1; b <= to; b++) if (!isTogether(a, b)) return false;
          return true;
        };
        // by looking at every stretch there is
        const all: { from: number; to: number }[] = [];
        for (let from = 0; from < count; from++)
          for (let to = from + 1; to < count; to++) if (holds(from, to)) all.push({ from, to });
        const longest = all.filter(
          (one) => !all.some((other) => other !== one && other.from <= one.from && other.to >= one.to),
        );
        expect(bandsOf(count, isTogether)).toEqual(longest);
      }),
    );
  });

  it('that share a row never share a line', () => {
    fc.assert(
      fc.property(matrices, ({ count, cells }) => {
        const bands = bandsOf(count, (a, b) => cells[a * count + b] ?? false);
        const lanes = lanesOf(bands);
        expect(lanes).toHaveLength(bands.length);
        bands.forEach((one, i) => {
          bands.forEach((other, j) => {
            if (i < j && lanes[i] === lanes[j]) expect(one.to < other.from || other.to < one.from).toBe(true);
          });
        });
      }),
    );
  });
});
