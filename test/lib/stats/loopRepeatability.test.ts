import { describe, expect, it } from 'vitest';
import { loopRepeatability } from '@/lib/stats/loopRepeatability';
import { publicRun } from './publicRun';
import { readResult, readTable } from './reference';

describe('repeatability on a loop', () => {
  it('is the pooled standard deviation within cells: NIST StRD SiRstv, certified residual deviation', () => {
    const { SiRstv } = readResult<{ SiRstv: { certified: { residSD: number; dfW: number } } }>('nist_anova');
    const table = readTable('nist_SiRstv');
    // Values about 196 taken as logarithms less 190: an offset changes no spread. The digits lost are those of exp and ln.
    const runs = table.map((row) =>
      publicRun({ sessionId: String(row.g), normalisedWhPerKm: Math.exp(Number(row.y) - 190) }),
    );
    const found = loopRepeatability(runs);
    expect(found?.cells).toBe(5);
    expect(found?.dof).toBe(SiRstv.certified.dfW);
    expect(Math.abs((found?.sr ?? 0) / SiRstv.certified.residSD - 1)).toBeLessThan(1e-10);
    // χ² quantiles with 20 degrees of freedom: 34.170 and 9.591 (NIST/SEMATECH e-Handbook, 1.3.6.7.4).
    expect(found?.low).toBeCloseTo(SiRstv.certified.residSD * Math.sqrt(20 / 34.17), 5);
    expect(found?.high).toBeCloseTo(SiRstv.certified.residSD * Math.sqrt(20 / 9.591), 5);
    // ISO 5725-6:1994, 4.1
    expect(found?.limit).toBeCloseTo(2.8 * SiRstv.certified.residSD, 9);
  });

  it('does not mix setups, classes or sessions', () => {
    expect(
      loopRepeatability([
        publicRun({ normalisedWhPerKm: 100 }),
        publicRun({ normalisedWhPerKm: 150, setupId: 'low' }),
        publicRun({ normalisedWhPerKm: 200, classKey: 'kmh-130' }),
        publicRun({ normalisedWhPerKm: 250, sessionId: 'other' }),
        publicRun({ normalisedWhPerKm: null }),
      ]),
    ).toBeNull();
  });
});
