import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitGroup } from '@/lib/stats/fitGroup';
import { prepare } from '@/lib/stats/problem';
import { fitReml } from '@/lib/stats/reml';
import { layOutCells, layOutRuns, type Observation } from '@/lib/stats/structure';
import {
  addRun,
  emptyStatistics,
  refitEffects,
  removeRun,
  summariseRuns,
} from '@/lib/stats/sufficientStatistics';
import { readSynthetic } from './reference';
import { arbitraryRuns } from './runs';

const all = { car: true, carLoop: false, session: true, residual: true };

describe('sufficient statistics', { timeout: 30_000 }, () => {
  it('fit to the same result as the runs', () => {
    for (const withU of [false, true]) {
      const runs = readSynthetic('synthKV', withU);
      const fromRuns = prepare(layOutRuns(runs));
      const fromCells = prepare(layOutCells([...summariseRuns(runs).cells.values()]));
      const [a, b] = [fitReml(fromRuns, all), fitReml(fromCells, all)];
      expect(b.at.deviance).toBeCloseTo(a.at.deviance, 7);
      const ratio = (b.at.variances.car * fromCells.scale ** 2) / (a.at.variances.car * fromRuns.scale ** 2);
      expect(Math.abs(ratio - 1)).toBeLessThan(1e-8);
    }
  });

  it('forget a withdrawn run entirely', () => {
    fc.assert(
      fc.property(arbitraryRuns(false), arbitraryRuns(false), (kept, extra) => {
        const statistics = summariseRuns(kept);
        for (const run of extra) addRun(statistics, run);
        for (const run of [...extra].reverse()) removeRun(statistics, run);
        const wanted = summariseRuns(kept).cells;
        expect([...statistics.cells.keys()].sort()).toEqual([...wanted.keys()].sort());
        for (const [key, cell] of wanted) {
          expect(statistics.cells.get(key)?.n).toBe(cell.n);
          expect(statistics.cells.get(key)?.mean).toBeCloseTo(cell.mean, 10);
          expect(statistics.cells.get(key)?.squares).toBeCloseTo(cell.squares, 10);
        }
      }),
      { seed: 30, numRuns: 50 },
    );
  });

  it('refuses to withdraw what was never added', () => {
    const run = { setup: 'a', car: 'k', session: '1', z: 1, u: 0 };
    expect(() => removeRun(emptyStatistics(), run)).toThrow(RangeError);
  });

  it('bins uncertainties on request, to a fit close to the exact one', () => {
    const runs = readSynthetic('synthKV', true);
    const exact = summariseRuns(runs);
    const coarse = summariseRuns(runs, 4);
    expect(coarse.cells.size).toBeLessThan(exact.cells.size);
    const residual = (cells: Iterable<Parameters<typeof layOutCells>[0][number]>) => {
      const problem = prepare(layOutCells([...cells]));
      return fitReml(problem, all).at.variances.car * problem.scale ** 2;
    };
    expect(Math.abs(residual(coarse.cells.values()) / residual(exact.cells.values()) - 1)).toBeLessThan(0.01);
  });

  it('gives the estimates between full fits, at the variances held', () => {
    const runs: Observation[] = readSynthetic('synthKV', true);
    const fit = fitGroup(runs, { draws: 200 });
    const quick = refitEffects(summariseRuns(runs), fit.components);
    expect(quick.setups).toEqual(fit.setups);
    fit.estimates.forEach((estimate, k) => {
      expect(quick.inference.base + (quick.inference.effects[k] as number)).toBeCloseTo(estimate.beta, 9);
    });
  });
});
