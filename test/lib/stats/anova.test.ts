import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meanOf, oneWayAnova, squaresAboutMean, sumExactly } from '@/lib/stats/anova';
import { readResult, readTable } from './reference';

// NIST Statistical Reference Datasets, certified values.
interface Certified {
  dfB: number;
  SSB: number;
  MSB: number;
  F: number;
  dfW: number;
  SSW: number;
  MSW: number;
  R2: number;
  residSD: number;
}
const certified = readResult<Record<string, { certified: Certified }>>('nist_anova');

function groupsOf(name: string): number[][] {
  const groups = new Map<string, number[]>();
  for (const row of readTable(`nist_${name}`)) {
    groups.set(row.g as string, [...(groups.get(row.g as string) ?? []), Number(row.y)]);
  }
  return [...groups.values()];
}

describe('one-way analysis of variance against NIST StRD', () => {
  it.each([
    { name: 'SiRstv', digits: 9 },
    { name: 'SmLs01', digits: 9 },
    { name: 'AtmWtAg', digits: 9 },
    // Seven digits are shared by every value: nine digits are lost in reading the data as doubles.
    { name: 'SmLs04', digits: 8 },
  ])('$name: $digits digits', ({ name, digits }) => {
    const wanted = certified[name]?.certified as Certified;
    const found = oneWayAnova(groupsOf(name));
    const agree = (x: number, y: number) => expect(Math.abs(x - y) / Math.abs(y)).toBeLessThan(10 ** -digits);
    agree(found.f, wanted.F);
    agree(found.betweenSquares, wanted.SSB);
    agree(found.withinSquares, wanted.SSW);
    agree(found.betweenMeanSquare, wanted.MSB);
    agree(found.withinMeanSquare, wanted.MSW);
    agree(found.rSquared, wanted.R2);
    agree(Math.sqrt(found.withinMeanSquare), wanted.residSD);
    expect([found.betweenDf, found.withinDf]).toEqual([wanted.dfB, wanted.dfW]);
  });

  it('has the p-value of R on PlantGrowth', () => {
    const groups = ['ctrl', 'trt1', 'trt2'].map((g) =>
      readTable('PlantGrowth')
        .filter((row) => row.group === g)
        .map((row) => Number(row.weight)),
    );
    // R: anova(lm(weight ~ group, PlantGrowth)) prints F 4.8461, Pr(>F) 0.01591 (from memory).
    const found = oneWayAnova(groups);
    expect(found.f).toBeCloseTo(4.8461, 4);
    expect(found.p).toBeCloseTo(0.01591, 5);
  });

  it('does not change when every value moves by the same amount', () => {
    const groups = fc.array(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 2, maxLength: 5 }), {
      minLength: 2,
      maxLength: 4,
    });
    fc.assert(
      fc.property(groups, fc.integer({ min: -1e6, max: 1e6 }), (values, shift) => {
        const plain = oneWayAnova(values);
        const moved = oneWayAnova(values.map((g) => g.map((x) => x + shift)));
        expect(moved.betweenSquares).toBeCloseTo(plain.betweenSquares, 6);
        expect(moved.withinSquares).toBeCloseTo(plain.withinSquares, 6);
      }),
      { seed: 4 },
    );
  });

  it('refuses what it cannot analyse', () => {
    expect(() => oneWayAnova([[1, 2]])).toThrow(RangeError);
    expect(() => oneWayAnova([[1], [2]])).toThrow(RangeError);
    expect(() => oneWayAnova([[1, 2], []])).toThrow(RangeError);
  });
});

describe('sums', () => {
  it('keeps what a plain sum loses', () => {
    expect(sumExactly([1, 1e100, 1, -1e100])).toBe(2);
    expect(meanOf([1e9 + 1, 1e9 + 2, 1e9 + 3])).toBe(1e9 + 2);
    expect(squaresAboutMean([1e9 + 1, 1e9 + 2, 1e9 + 3])).toBe(2);
  });
});
