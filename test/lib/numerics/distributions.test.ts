import { describe, expect, it } from 'vitest';
import {
  chiSquareLower,
  chiSquareLowerQuantile,
  chiSquareUpper,
  fLower,
  fLowerQuantile,
  fUpper,
  fUpperQuantile,
  normalLower,
  normalUpper,
  normalUpperQuantile,
  tTwoSided,
  tUpper,
  tUpperQuantile,
} from '@/lib/numerics/distributions';
import { readResult } from '../stats/reference';

// R 4.2.2: pt, qt, pf, pnorm, qnorm, pchisq.
interface Tables {
  pt: { t: number; df: number; upper: number }[];
  qt: { p: number; df: number; q: number }[];
  pf: { f: number; df1: number; df2: number; upper: number }[];
  pnorm: { z: number; upper: number }[];
  qnorm: { p: number; q: number }[];
  pchisq: { x: number; df: number; upper: number }[];
}
const tables = readResult<Tables>('distributions');
const gap = (found: number, wanted: number) => Math.abs(found - wanted) / Math.abs(wanted);

describe('distributions against R', () => {
  it('t tail and quantile', () => {
    for (const row of tables.pt) expect(gap(tUpper(row.t, row.df), row.upper)).toBeLessThan(1e-12);
    for (const row of tables.qt) expect(gap(tUpperQuantile(1 - row.p, row.df), row.q)).toBeLessThan(1e-11);
  });

  it('F tail through the reciprocal', () => {
    for (const row of tables.pf) expect(gap(fUpper(row.f, row.df1, row.df2), row.upper)).toBeLessThan(1e-11);
  });

  it('normal tail and quantile down to 1e-300', () => {
    for (const row of tables.pnorm) {
      if (row.upper > 0) expect(gap(normalUpper(row.z), row.upper)).toBeLessThan(1e-12);
    }
    for (const row of tables.qnorm) expect(Math.abs(normalUpperQuantile(row.p) + row.q)).toBeLessThan(1e-9);
  });

  it('χ² tail for whole degrees of freedom', () => {
    const whole = tables.pchisq.filter((row) => Number.isInteger(row.df));
    expect(whole.length).toBeGreaterThan(10);
    for (const row of whole) expect(gap(chiSquareUpper(row.x, row.df), row.upper)).toBeLessThan(1e-11);
  });
});

describe('the forms agree with each other', () => {
  it('tails add to one and quantiles invert', () => {
    for (const df of [1, 2.5, 7, 40, 1e11]) {
      expect(tUpper(1.3, df) + tUpper(-1.3, df)).toBeCloseTo(1, 13);
      expect(tTwoSided(-1.3, df)).toBeCloseTo(2 * tUpper(1.3, df), 13);
      expect(tUpper(tUpperQuantile(0.01, df), df)).toBeCloseTo(0.01, 12);
    }
    expect(fLower(2.2, 3, 9) + fUpper(2.2, 3, 9)).toBeCloseTo(1, 13);
    expect(fUpper(fUpperQuantile(0.05, 4, 11), 4, 11)).toBeCloseTo(0.05, 12);
    expect(fLower(fLowerQuantile(0.05, 4, 11), 4, 11)).toBeCloseTo(0.05, 12);
    expect(normalLower(0.7) + normalUpper(0.7)).toBeCloseTo(1, 14);
    for (const df of [1, 2, 3, 8]) {
      expect(chiSquareLower(3, df) + chiSquareUpper(3, df)).toBeCloseTo(1, 12);
      expect(chiSquareLower(chiSquareLowerQuantile(0.3, df), df)).toBeCloseTo(0.3, 11);
    }
  });

  it('gives the limits at and below zero', () => {
    expect(fUpper(0, 2, 3)).toBe(1);
    expect(fLower(-1, 2, 3)).toBe(0);
    expect(chiSquareUpper(0, 3)).toBe(1);
    expect(() => chiSquareUpper(1, 2.5)).toThrow(RangeError);
  });
});
