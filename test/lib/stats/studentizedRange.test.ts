import { describe, expect, it } from 'vitest';
import { tUpperQuantile } from '@/lib/numerics/distributions';
import { studentizedRangeLower, studentizedRangeQuantile } from '@/lib/stats/studentizedRange';
import { readResult } from './reference';

describe('the studentised range', { timeout: 30_000 }, () => {
  it('agrees with direct double integration from 2 to 120 degrees of freedom', () => {
    const rows = readResult<{ p: number; k: number; df: number; exact: number }[]>('studentized_range_exact');
    expect(rows.length).toBeGreaterThan(100);
    for (const row of rows) {
      // Probability at the tabulated point: the table has 12 digits of q.
      expect(Math.abs(studentizedRangeLower(row.exact, row.k, row.df) - row.p)).toBeLessThan(2e-11);
    }
    for (const row of rows.filter((_, i) => i % 12 === 0)) {
      expect(Math.abs(studentizedRangeQuantile(row.p, row.k, row.df) / row.exact - 1)).toBeLessThan(1e-9);
    }
  });

  it('is √2 times Student t for two means', () => {
    for (const df of [2, 5.5, 30]) {
      expect(studentizedRangeQuantile(0.95, 2, df)).toBeCloseTo(Math.SQRT2 * tUpperQuantile(0.025, df), 8);
    }
  });

  it('is a distribution', () => {
    expect(studentizedRangeLower(0, 3, 5)).toBe(0);
    expect(studentizedRangeLower(1e4, 3, 5)).toBeCloseTo(1, 9);
    expect(() => studentizedRangeLower(1, 1, 5)).toThrow(RangeError);
    expect(() => studentizedRangeLower(1, 3, 0)).toThrow(RangeError);
  });
});
