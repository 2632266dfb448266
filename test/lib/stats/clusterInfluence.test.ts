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

describe('testers that count as one', () => {
  it('are those that share a car, and those joined otherwise, each under one name', () => {
    const runs = [
      { car: 'k', tester: 'bo' },
      { car: 'k', tester: 'al' },
      { car: 'l', tester: 'cy' },
      { car: 'm', tester: 'di' },
    ];
    expect([...clustersOfCars(runs)]).toEqual([
      ['k', 'al'],
      ['l', 'cy'],
      ['m', 'di'],
    ]);
    expect([...clustersOfCars(runs, [['cy', 'bo']])].map(([, cluster]) => cluster)).toEqual([
      'al',
      'al',
      'di',
    ]);
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

  it('takes the place in the ranking with it', () => {
    const all = moved(rows, () => true);
    const most = all.map((row) => ({ ...row, tester: row.car < 'car 4' ? 'mira' : row.car }));
    const rankOf = (of: readonly FitRow[]) =>
      fitGroup(of, { draws: 1000 }).ranks.find(({ setup }) => setup === 'setup 1');
    expect(rankOf(all)).toMatchObject({ lower: 3, upper: 3 });
    expect(rankOf(most)).toMatchObject({ lower: 1, upper: 3 });
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
