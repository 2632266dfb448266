import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Clusters, clustersOfCars } from '@/lib/stats/clusterInfluence';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import { HeldEquations } from '@/lib/stats/heldEquations';
import { denseFit, multiply, transpose } from './dense';
import { simulateRuns } from './runs';

const components = { car: 0.0004, carLoop: 0.0002, session: 0.0003, residual: 0.0001 };
const shape = {
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
};
type Driven = FitRow & { tester: string };
/** Every car its own tester's. */
const rows: Driven[] = simulateRuns(shape, 3).map((row) => ({ ...row, tester: row.car }));
/** Half of the cars are one tester's. */
const mira = rows.map((row) => ({ ...row, tester: row.car < 'car 3' ? 'mira' : row.car }));

/** A setup that uses more by an effect far beyond the scatter. */
const moved = (of: readonly Driven[], by: (row: Driven) => boolean) =>
  of.map((row) => ({ ...row, z: row.z + (row.setup === 'setup 1' && by(row) ? 0.2 : 0) }));

const wordOf = (of: readonly FitRow[], a = 'setup 0', b = 'setup 1') => {
  const { contrasts } = fitGroup(of, { draws: 1000 });
  const pair = contrasts.find((c) => c.a === a && c.b === b);
  return { word: pair?.word, restsOn: pair?.restsOn };
};

describe('influence of a tester on a setup', () => {
  it('adds up to 1 over the testers and is that of the dense model', () => {
    const clusterOf = clustersOfCars(mira);
    const clusters = new Clusters(new HeldEquations(mira, components), clusterOf);
    const dense = denseFit(mira, components);
    const solve = multiply(multiply(dense.covariance, transpose(dense.X)), dense.Vinverse);
    dense.setups.forEach((setup, k) => {
      const shares = clusters.influence(setup);
      expect([...shares.values()].reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
      for (const [cluster, share] of shares) {
        const indicator = mira.map((row) => [Number(row.setup === setup && row.tester === cluster)]);
        expect(share).toBeCloseTo(multiply(solve, indicator)[k]?.[0] as number, 9);
      }
      expect(shares.get('mira')).toBeGreaterThan(0.4);
    });
  });

  it('leaving cars out gives what the dense model gives without them', () => {
    const equations = new HeldEquations(mira, components);
    const left = new Set(['car 0', 'car 4']);
    const dense = denseFit(
      mira.filter(({ car }) => !left.has(car)),
      components,
    );
    const found = equations.differenceOf('setup 0', 'setup 2', left);
    expect(found?.difference).toBeCloseTo((dense.beta[0] as number) - (dense.beta[2] as number), 9);
    const at = (i: number, j: number) => dense.covariance[i]?.[j] as number;
    expect(found?.variance).toBeCloseTo(at(0, 0) + at(2, 2) - 2 * at(0, 2), 9);
    expect(equations.differenceOf('setup 0', 'nothing')).toBeNull();
  });
});

describe('clusters of cars', () => {
  it('are those of their drivers, and of whoever they are joined with', () => {
    const runs = [
      { car: 'k', tester: 'bo' },
      { car: 'k', tester: 'al' },
      { car: 'l', tester: 'cy' },
      { car: 'm', tester: 'di' },
    ];
    expect([...clustersOfCars(runs)].map(([, cluster]) => cluster)).toEqual(['al', 'cy', 'di']);
    expect([...clustersOfCars(runs, [['cy', 'bo']])].map(([, cluster]) => cluster)).toEqual([
      'al',
      'al',
      'di',
    ]);
  });

  it('share each setup whole, however testers, cars and setups lie', () => {
    const run = fc.record({
      setup: fc.constantFrom('a', 'b', 'c', 'd'),
      car: fc.constantFrom('k', 'l', 'm', 'n', 'o'),
      session: fc.constantFrom('1', '2'),
      tester: fc.constantFrom('al', 'bo', 'cy'),
    });
    fc.assert(
      fc.property(fc.array(run, { minLength: 1, maxLength: 30 }), (drawn) => {
        const made = drawn.map((row, i) => ({ ...row, z: 5 + Math.sin(i), u: 0.004 }));
        const clusters = new Clusters(new HeldEquations(made, components), clustersOfCars(made));
        for (const { setup } of made) {
          const shares = [...clusters.influence(setup).values()];
          expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 8);
        }
      }),
    );
  });
});

describe('an answer that rests on one tester', () => {
  it('is settled where many testers show the same', () => {
    expect(wordOf(moved(rows, () => true))).toEqual({ word: 'settled', restsOn: [] });
  });

  it('is the next lower word where one tester has more than half of it', () => {
    const all = moved(rows, () => true);
    const most = all.map((row) => ({ ...row, tester: row.car < 'car 4' ? 'mira' : row.car }));
    expect(wordOf(most)).toEqual({ word: 'probable', restsOn: ['mira'] });
    // Nobody says who drove: nobody is asked.
    expect(wordOf(most.map(({ tester: _, ...row }) => row))).toEqual({ word: 'settled', restsOn: [] });
  });

  it('is not saved by six names on one car', () => {
    const all = moved(rows, () => true).map((row, i) => ({
      ...row,
      tester: row.car < 'car 4' ? `puppet ${i % 6}` : row.car,
    }));
    expect(wordOf(all)).toEqual({ word: 'probable', restsOn: ['puppet 0'] });
  });

  it('is lowered where one tester’s runs alone show it, though the influence is small', () => {
    // The simulated setups are 0.02 apart: taken back, so that car 2 alone shows a difference.
    const one = rows.map((row) => ({
      ...row,
      z:
        row.z -
        0.02 * Number(row.setup.slice(6)) +
        (row.setup === 'setup 1' && row.car === 'car 2' ? 0.2 : 0),
    }));
    const at = new HeldEquations(one, components);
    const clusters = new Clusters(at, clustersOfCars(one));
    const whole = at.differenceOf('setup 0', 'setup 1');
    const se = Math.sqrt(whole?.variance as number);
    const pair = {
      a: 'setup 0',
      b: 'setup 1',
      difference: whole?.difference as number,
      se,
      sharedSe: 0,
      ofClass: 3,
    };
    expect(Math.abs(pair.difference)).toBeGreaterThan(3 * se);
    expect(clusters.restsOn(pair)).toEqual(['car 2']);
  });

  it('has no place in the ranking, and the others are counted without it', () => {
    const all = moved(rows, () => true);
    const most = all.map((row) => ({ ...row, tester: row.car < 'car 4' ? 'mira' : row.car }));
    const rankOf = (of: readonly FitRow[]) =>
      fitGroup(of, { draws: 1000 }).ranks.find(({ setup }) => setup === 'setup 1');
    expect(rankOf(all)).toMatchObject({ lower: 3, upper: 3, without: null });
    expect(rankOf(most)).toBeUndefined();
    const fit = fitGroup(most, { draws: 1000 });
    expect(fit.estimates.map(({ restsOn, ranked }) => [restsOn, ranked])).toEqual(
      fit.estimates.map(() => [['mira'], true]),
    );
  });

  it('takes those whom ties join as one, and those nobody vouches for out of the ranking', () => {
    const all = moved(rows, () => true);
    const ties = [
      ['car 0', 'car 1'],
      ['car 1', 'car 2'],
      ['car 2', 'car 3'],
    ] as const;
    const word = (options: object) =>
      fitGroup(all, { draws: 1000, ...options }).contrasts.find(
        (c) => c.a === 'setup 0' && c.b === 'setup 1',
      );
    expect(word({})).toMatchObject({ word: 'settled' });
    expect(word({ ties })).toMatchObject({ word: 'probable', restsOn: ['car 0'] });
    const fit = fitGroup(all, { draws: 1000, isVouched: () => false });
    expect(fit.ranks).toEqual([]);
    expect(fit.estimates[0]?.missing).toEqual([{ what: 'vouched', have: 0, need: 1 }]);
    expect(fitGroup(all, { draws: 1000, isVouched: (tester) => tester === 'car 1' }).ranks).toHaveLength(3);
  });

  it('is leaning across models, where there is no probable', () => {
    const two = moved(rows, () => true).map((row) => ({
      ...row,
      car: `${row.setup} ${row.car}`,
      model: row.setup,
      tester: row.setup === 'setup 1' ? 'mira' : row.car,
    }));
    expect(wordOf(two)).toEqual({ word: 'leaning', restsOn: ['mira'] });
  });
});

describe('a rank without one tester', () => {
  /** Setups further apart than anything that drives scatter by, but that one tester's runs of one hide it. */
  const hidden = rows.map((row) => ({
    ...row,
    z: row.z + (row.setup === 'setup 2' ? 0.05 - (row.car === 'car 5' ? 0.24 : 0) : 0),
  }));

  it('is what the differences leave open with the tester left out, everything else held', () => {
    const fit = fitGroup(hidden, { draws: 2000 });
    const rank = fit.ranks.find(({ setup }) => setup === 'setup 2');
    expect(rank?.without?.cluster).toBe('car 5');
    // written out: GLS without the car's runs at the fit's components, and the fit's own critical values
    const rest = hidden.filter(({ car }) => car !== 'car 5');
    const [part, whole] = [denseFit(rest, fit.components), denseFit(hidden, fit.components)];
    const settled = (own: string, other: string) => {
      const pair = fit.contrasts.find((c) => [c.a, c.b].sort().join() === [own, other].sort().join());
      const [i, j] = [part.setups.indexOf(own), part.setups.indexOf(other)];
      const variance = (of: typeof part) =>
        (of.covariance[i]?.[i] as number) +
        (of.covariance[j]?.[j] as number) -
        2 * (of.covariance[i]?.[j] as number);
      const critical =
        ((pair?.simultaneous?.[1] as number) - (pair?.difference as number)) / (pair?.se as number);
      const se = Math.sqrt((variance(part) * (pair?.se as number) ** 2) / variance(whole));
      const difference = (part.beta[i] as number) - (part.beta[j] as number);
      return Math.abs(difference) > critical * se ? Math.sign(difference) : 0;
    };
    const against = ['setup 0', 'setup 1'].map((other) => settled('setup 2', other));
    expect(rank?.without).toEqual({
      cluster: 'car 5',
      lower: 1 + against.filter((sign) => sign > 0).length,
      upper: 3 - against.filter((sign) => sign < 0).length,
    });
    expect([rank?.without?.lower, rank?.without?.upper]).not.toEqual([rank?.lower, rank?.upper]);
  });
});
