import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cohenKappa } from '@/lib/stats/kappa';

describe('kappa', () => {
  // J. L. Fleiss, Statistical Methods for Rates and Proportions, 2nd ed. (1981), table 13.1 and section 13.1: diagnoses
  // of 100 patients by two raters; κ = 0.68, its standard error 0.087, for which the book goes on with the
  // rounded κ (unrounded it is 0.0877). Values from memory.
  it('is what Fleiss prints for two raters of 100 patients', () => {
    const kappa = cohenKappa([
      [75, 1, 4],
      [5, 4, 1],
      [0, 0, 10],
    ]);
    expect(kappa?.observed).toBeCloseTo(0.89, 10);
    expect(kappa?.expected).toBeCloseTo(0.66, 10);
    expect(kappa?.kappa).toBeCloseTo(0.68, 2);
    expect(Math.abs((kappa?.standardError ?? 0) - 0.087)).toBeLessThan(0.001);
  });

  // By hand: p_o = 35/50, p_e = 0.5 · 0.6 + 0.5 · 0.4 = 0.5, κ = 0.2/0.5.
  it('is 0.4 for 20 and 15 agreements among 50 with even margins of the first', () => {
    expect(
      cohenKappa([
        [20, 5],
        [10, 15],
      ])?.kappa,
    ).toBeCloseTo(0.4, 12);
  });

  it('is not there without pairs, nor where only one choice was ever made', () => {
    expect(
      cohenKappa([
        [0, 0],
        [0, 0],
      ]),
    ).toBeNull();
    expect(
      cohenKappa([
        [7, 0],
        [0, 0],
      ]),
    ).toBeNull();
    expect(() => cohenKappa([[1, 2]])).toThrow(RangeError);
  });

  const table = fc.array(fc.array(fc.nat(40), { minLength: 3, maxLength: 3 }), {
    minLength: 3,
    maxLength: 3,
  });

  it('lies within its interval and −1 … 1, is the same for swapped readers, and 1 for full agreement', () => {
    fc.assert(
      fc.property(table, (counts) => {
        const kappa = cohenKappa(counts);
        const swapped = cohenKappa(counts.map((_, i) => counts.map((row) => row[i] as number)));
        expect(swapped === null).toBe(kappa === null);
        if (kappa === null || swapped === null) return;
        expect(swapped.kappa).toBeCloseTo(kappa.kappa, 10);
        expect(swapped.standardError).toBeCloseTo(kappa.standardError, 10);
        expect(kappa.kappa).toBeGreaterThanOrEqual(-1);
        expect(kappa.kappa).toBeLessThanOrEqual(1);
        expect(kappa.low).toBeLessThanOrEqual(kappa.kappa);
        expect(kappa.high).toBeGreaterThanOrEqual(kappa.kappa);
        const full = cohenKappa(counts.map((row, i) => row.map((cell, j) => (i === j ? cell + 1 : 0))));
        expect(full?.kappa).toBeCloseTo(1, 12);
        expect(full?.standardError).toBeCloseTo(0, 6);
      }),
    );
  });

  it('has an interval that holds about 95 % of the time', () => {
    // A reader who agrees with the truth 80 % of the time, two answers of equal shares: p_o = 0.68, κ = 0.36.
    let state = 12345;
    const uniform = () => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return state / 4294967296;
    };
    const read = (truth: number) => (uniform() < 0.8 ? truth : 1 - truth);
    let held = 0;
    for (let trial = 0; trial < 1000; trial += 1) {
      const counts = [
        [0, 0],
        [0, 0],
      ];
      for (let i = 0; i < 200; i += 1) {
        const truth = uniform() < 0.5 ? 0 : 1;
        const row = counts[read(truth)] as number[];
        const second = read(truth);
        row[second] = (row[second] as number) + 1;
      }
      const kappa = cohenKappa(counts);
      if (kappa && kappa.low <= 0.36 && 0.36 <= kappa.high) held += 1;
    }
    expect(held).toBeGreaterThan(925);
    expect(held).toBeLessThan(972);
  });
});
