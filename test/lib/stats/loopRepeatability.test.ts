import { describe, expect, it } from 'vitest';
import { squaresAboutMean } from '@/lib/stats/anova';
import { loopRepeatability } from '@/lib/stats/loopRepeatability';
import { readResult, readTable } from './reference';

describe('repeatability on a loop', () => {
  it('is the pooled standard deviation within cells: NIST StRD SiRstv, certified residual deviation', () => {
    const { SiRstv } = readResult<{ SiRstv: { certified: { residSD: number; dfW: number } } }>('nist_anova');
    const table = readTable('nist_SiRstv');
    const cells = [...new Set(table.map(({ g }) => g))].map((g) =>
      table.filter((row) => row.g === g).map((row) => Number(row.y)),
    );
    const found = loopRepeatability({
      cells: cells.length,
      dof: cells.reduce((sum, values) => sum + values.length - 1, 0),
      squares: cells.reduce((sum, values) => sum + squaresAboutMean(values), 0),
    });
    expect(found?.cells).toBe(5);
    expect(found?.dof).toBe(SiRstv.certified.dfW);
    expect(Math.abs((found?.sr ?? 0) / SiRstv.certified.residSD - 1)).toBeLessThan(1e-10);
    // χ² quantiles with 20 degrees of freedom: 34.170 and 9.591 (NIST/SEMATECH e-Handbook, 1.3.6.7.4).
    expect(found?.low).toBeCloseTo(SiRstv.certified.residSD * Math.sqrt(20 / 34.17), 5);
    expect(found?.high).toBeCloseTo(SiRstv.certified.residSD * Math.sqrt(20 / 9.591), 5);
    // ISO 5725-6:1994, 4.1
    expect(found?.limit).toBeCloseTo(2.8 * SiRstv.certified.residSD, 9);
  });

  it('is unknown where nothing was repeated', () => {
    expect(loopRepeatability({ cells: 0, dof: 0, squares: 0 })).toBeNull();
  });
});
