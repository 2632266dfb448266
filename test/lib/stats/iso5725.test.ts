import { describe, expect, it } from 'vitest';
import {
  cochranTest,
  criticalCochran,
  criticalGrubbs,
  grubbsPairChance,
  grubbsPairStatistic,
  grubbsTest,
} from '@/lib/stats/grubbsCochran';
import { criticalH, criticalK, mandelStatistics, precisionOf } from '@/lib/stats/iso5725';
import { readResult, readTable } from './reference';

// The formulas of ISO 5725-2 evaluated in R.
interface Screened {
  mean: number;
  s_r: number;
  s_L: number;
  s_R: number;
  nbar: number;
  r: number;
  R: number;
  cell_means: number[];
  cochran: { C: number; crit5: number; crit1: number };
  grubbs1: { Ghigh: number; Glow: number; crit5: number; crit1: number };
  grubbs2: { high: number; low: number };
  mandel_h: number[];
  mandel_k: number[];
  h_crit5: number;
  h_crit1: number;
  k_crit5: number;
  k_crit1: number;
}
interface Tables {
  Dyestuff: Screened;
  Dyestuff2: Screened;
  cochran_crit: { p: number; n: number; crit5: number; crit1: number }[];
  grubbs_crit_two_sided: { p: number; crit5: number; crit1: number }[];
}
const tables = readResult<Tables>('iso5725');

function cellsOf(name: string) {
  const cells = new Map<string, number[]>();
  for (const row of readTable(name)) {
    cells.set(row.Batch as string, [...(cells.get(row.Batch as string) ?? []), Number(row.Yield)]);
  }
  return [...cells].map(([laboratory, values]) => ({ laboratory, values }));
}

describe.each(['Dyestuff', 'Dyestuff2'] as const)('ISO 5725-2 on %s', (name) => {
  const wanted = tables[name];
  const cells = cellsOf(name);

  it('precision and limits', () => {
    const found = precisionOf(cells);
    expect(found.mean).toBeCloseTo(wanted.mean, 9);
    expect(found.sr).toBeCloseTo(wanted.s_r, 9);
    expect(found.sL).toBeCloseTo(wanted.s_L, 9);
    expect(found.sR).toBeCloseTo(wanted.s_R, 9);
    expect(found.r).toBeCloseTo(wanted.r, 9);
    expect(found.R).toBeCloseTo(wanted.R, 9);
    expect(found.effectiveReplicates).toBeCloseTo(wanted.nbar, 12);
    expect(found.laboratories).toBe(6);
  });

  it("Mandel's h and k", () => {
    mandelStatistics(cells).forEach((row, i) => {
      expect(row.h).toBeCloseTo(wanted.mandel_h[i] as number, 9);
      expect(row.k).toBeCloseTo(wanted.mandel_k[i] as number, 9);
    });
    expect(criticalH(6, 0.05)).toBeCloseTo(wanted.h_crit5, 9);
    expect(criticalH(6, 0.01)).toBeCloseTo(wanted.h_crit1, 9);
    expect(criticalK(6, 5, 0.05)).toBeCloseTo(wanted.k_crit5, 9);
    expect(criticalK(6, 5, 0.01)).toBeCloseTo(wanted.k_crit1, 9);
  });

  it('Cochran and Grubbs', () => {
    const cochran = cochranTest(cells);
    expect(cochran?.statistic).toBeCloseTo(wanted.cochran.C, 10);
    expect(cochran?.critical5).toBeCloseTo(wanted.cochran.crit5, 9);
    expect(cochran?.critical1).toBeCloseTo(wanted.cochran.crit1, 9);
    expect(cochran?.verdict).toBe('consistent');
    const grubbs = grubbsTest(cells);
    expect(grubbs?.high.statistic).toBeCloseTo(wanted.grubbs1.Ghigh, 9);
    expect(grubbs?.low.statistic).toBeCloseTo(wanted.grubbs1.Glow, 9);
    expect(grubbs?.high.critical1).toBeCloseTo(wanted.grubbs1.crit1, 9);
    expect(grubbs?.low.critical5).toBeCloseTo(wanted.grubbs1.crit5, 9);
    expect(grubbsPairStatistic(wanted.cell_means, 'high')).toBeCloseTo(wanted.grubbs2.high, 9);
    expect(grubbsPairStatistic(wanted.cell_means, 'low')).toBeCloseTo(wanted.grubbs2.low, 9);
  });
});

describe('critical values', { timeout: 30_000 }, () => {
  it("Cochran's for all tabulated p and n", () => {
    for (const row of tables.cochran_crit) {
      expect(criticalCochran(row.p, row.n, 0.05)).toBeCloseTo(row.crit5, 9);
      expect(criticalCochran(row.p, row.n, 0.01)).toBeCloseTo(row.crit1, 9);
    }
  });

  it("Grubbs' for all tabulated p", () => {
    for (const row of tables.grubbs_crit_two_sided) {
      expect(criticalGrubbs(row.p, 0.05)).toBeCloseTo(row.crit5, 8);
      expect(criticalGrubbs(row.p, 0.01)).toBeCloseTo(row.crit1, 8);
    }
  });

  it('are the printed ones of ISO 5725-2:1994 to three decimals (from memory)', () => {
    // Table 4: Cochran, p = 10, n = 2: 0.602 at 5 %, 0.718 (from the F quantile 0.7175) at 1 %.
    expect(criticalCochran(10, 2, 0.05)).toBeCloseTo(0.602, 3);
    // Table 5: Grubbs for one outlier, p = 10: 2.290 at 5 %, 2.482 at 1 %.
    expect(criticalGrubbs(10, 0.05)).toBeCloseTo(2.29, 3);
    expect(criticalGrubbs(10, 0.01)).toBeCloseTo(2.482, 3);
    // Table 5: Grubbs for two outliers, p = 10: 0.1864 at 5 %, two-sided, that is 2.5 % on one side.
    expect(grubbsPairChance(0.1864, 10, 7, 40_000)).toBeGreaterThan(0.0225);
    expect(grubbsPairChance(0.1864, 10, 7, 40_000)).toBeLessThan(0.0275);
  });
});

describe('screening', () => {
  const steady = ['k', 'l', 'm', 'n', 'o'].map((laboratory, i) => ({
    laboratory,
    values: [100 + i * 0.1, 100.4 + i * 0.1, 99.8 + i * 0.1],
  }));

  it('points at a scattered cell and a far cell, and removes neither', () => {
    const scattered = [...steady, { laboratory: 'wild', values: [90, 100, 110] }];
    expect(cochranTest(scattered)).toMatchObject({ verdict: 'outlier', laboratory: 'wild' });
    const far = [...steady, { laboratory: 'far', values: [120, 120.4, 119.9] }];
    expect(grubbsTest(far)?.high).toMatchObject({ verdict: 'outlier', laboratory: 'far' });
    expect(grubbsTest(far)?.low.verdict).toBe('consistent');
    expect(far).toHaveLength(6);
  });

  it('says nothing on too few cells or on cells without spread', () => {
    expect(cochranTest(steady.slice(0, 2))).toBeNull();
    expect(grubbsTest(steady.slice(0, 2))).toBeNull();
    expect(grubbsPairStatistic([1, 2, 3], 'low')).toBeNull();
    const flat = ['a', 'b', 'c', 'd'].map((laboratory) => ({ laboratory, values: [5, 5] }));
    expect(cochranTest(flat)).toBeNull();
    expect(grubbsTest(flat)).toBeNull();
    expect(mandelStatistics(flat).every((row) => row.h === null && row.k === null)).toBe(true);
  });
});
