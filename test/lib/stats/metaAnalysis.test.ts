import { describe, expect, it } from 'vitest';
import { combineEffects } from '@/lib/stats/metaAnalysis';
import { readResult, readTable } from './reference';

// metafor 3.8-1: rma(yi, vi, data = dat.bcg, method = "REML"), test = "knha" for the interval.
interface Rma {
  b: number;
  se: number;
  ci: [number, number];
  tau2: number;
  se_tau2: number;
  I2: number;
  QE: number;
  QEp: number;
}
const wanted = readResult<{ REML: Rma; REML_knha: Rma; FE: Rma }>('metafor_bcg');
const effects = readTable('dat_bcg').map((row) => ({ y: Number(row.yi), variance: Number(row.vi) }));

describe('random-effects combination', () => {
  it('agrees with metafor on the BCG trials', () => {
    const found = combineEffects(effects);
    if (found === null) throw new Error('nothing was combined');
    const close = (x: number, y: number, tolerance: number) =>
      expect(Math.abs(x / y - 1)).toBeLessThan(tolerance);
    // metafor stops its Fisher scoring at 1e-5 in τ²: about 7 digits of it.
    close(found.tau2, wanted.REML.tau2, 1e-6);
    close(found.seTau2 as number, wanted.REML.se_tau2, 1e-6);
    close(found.estimate, wanted.REML.b, 1e-7);
    close(found.plainSe, wanted.REML.se, 1e-6);
    close(found.se, wanted.REML_knha.se, 1e-6);
    close((found.interval as [number, number])[0], wanted.REML_knha.ci[0], 1e-6);
    close((found.interval as [number, number])[1], wanted.REML_knha.ci[1], 1e-6);
    close(found.q, wanted.FE.QE, 1e-10);
    close(found.qP, wanted.FE.QEp, 1e-8);
    close(100 * found.i2, wanted.REML.I2, 1e-6);
    expect(found.df).toBe(12);
  });

  it('is the weighted mean when the effects agree', () => {
    const found = combineEffects([
      { y: 1, variance: 0.1 },
      { y: 1.1, variance: 0.3 },
      { y: 0.9, variance: 0.2 },
    ]);
    // Weights 10, 10/3, 5; Q = 0.0836 < 2 leaves no room for variation between.
    expect(found?.tau2).toBe(0);
    expect(found?.estimate).toBeCloseTo((10 + 11 / 3 + 4.5) / (10 + 10 / 3 + 5), 12);
  });

  it('claims no interval from one effect and nothing from none', () => {
    expect(combineEffects([{ y: 1, variance: 0.04 }])).toMatchObject({
      estimate: 1,
      se: 0.2,
      interval: null,
    });
    expect(combineEffects([])).toBeNull();
  });
});
