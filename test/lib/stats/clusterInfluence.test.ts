import { describe, expect, it } from 'vitest';
import { type ClusteredRow, clusterInfluence, restsOn } from '@/lib/stats/clusterInfluence';
import { fitGroup } from '@/lib/stats/fitGroup';
import { denseFit, multiply, transpose } from './dense';
import { simulateRuns } from './runs';

const components = { car: 0.0004, carLoop: 0.0002, session: 0.0003, residual: 0.0001 };
const rows: ClusteredRow[] = simulateRuns(
  {
    cars: 6,
    sessions: 4,
    loops: 2,
    setups: 3,
    runs: 3,
    sdCar: 0.02,
    sdCarLoop: 0.01,
    sdSession: 0.01,
    sdRun: 0.01,
    u: 0.003,
  },
  3,
).map((row) => ({ ...row, cluster: row.car < 'car 3' ? 'mira' : row.car }));

describe('an answer that rests on one tester', () => {
  it('shares add up to 1 and are those of the dense model', () => {
    const found = clusterInfluence(rows, components);
    const dense = denseFit(rows, components);
    const solve = multiply(multiply(dense.covariance, transpose(dense.X)), dense.Vinverse);
    for (const setup of dense.setups) {
      const own = found.filter((row) => row.setup === setup);
      expect(own.reduce((sum, row) => sum + row.share, 0)).toBeCloseTo(1, 9);
      for (const { cluster, share } of own) {
        const indicator = rows.map((row) => [Number(row.setup === setup && row.cluster === cluster)]);
        const k = dense.setups.indexOf(setup);
        expect(share).toBeCloseTo(multiply(solve, indicator)[k]?.[0] as number, 9);
      }
    }
    // Half of the cars are mira's.
    for (const { cluster, share } of found) if (cluster === 'mira') expect(share).toBeGreaterThan(0.4);
  });

  it('lowers a settled word where one cluster carries it, and only there', () => {
    const effect = (by: (row: ClusteredRow) => boolean) =>
      rows.map((row) => ({ ...row, z: row.z + (row.setup === 'setup 1' && by(row) ? 0.2 : 0) }));
    const judge = (of: ClusteredRow[]) => {
      const fit = fitGroup(of, { draws: 1000 });
      const pair = fit.contrasts.find((c) => c.a === 'setup 0' && c.b === 'setup 1');
      const value = fit.criticalValue?.value ?? 0;
      const held = { components, ofClass: value, ofModel: value, alone: 2, word: 'settled' as const };
      expect(pair?.difference).not.toBeNull();
      return restsOn(of, ['setup 0', 'setup 1'], held);
    };
    const single = rows.map((row) => ({ ...row, cluster: row.car }));
    const shared = effect(() => true).map((row, i) => ({ ...row, cluster: single[i]?.cluster as string }));
    expect(judge(shared)).toEqual({ clusters: [], word: 'settled' });
    const all = shared.map((row) => ({ ...row, cluster: row.setup === 'setup 1' ? 'mira' : row.cluster }));
    expect(judge(all)).toMatchObject({ word: 'probable' });
    expect(judge(all).clusters).toContain('mira');
  });
});
