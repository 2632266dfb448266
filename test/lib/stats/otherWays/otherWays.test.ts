import { describe, expect, it } from 'vitest';
import { tUpperQuantile } from '@/lib/numerics/distributions';
import { createRandom, drawNormal } from '@/lib/numerics/random';
import { youngClassSpread } from '@/lib/physics/priors';
import { fitGroup } from '@/lib/stats/fitGroup';
import { withFixedEffect } from '@/lib/stats/otherWays/fixedEffect';
import { MOST_SETUPS, otherWays } from '@/lib/stats/otherWays/otherWays';
import { SameSession } from '@/lib/stats/otherWays/sameSession';
import { spreadRatios } from '@/lib/stats/otherWays/spreadRatio';
import type { WayRun } from '@/lib/stats/otherWays/way';
import { readyRows } from '@/lib/stats/sessionSpread';
import { denseFit, invert, type Matrix, multiply, transpose } from '../dense';
import { sandwich, sharing } from '../denseSandwich';
import { simulateRuns } from '../runs';

const components = { car: 0.0004, carLoop: 0.0002, session: 0.0003, residual: 0.0001 };
const random = createRandom(4);
const traffics = ['free', 'moderate', 'dense'] as const;
const shape = { cars: 6, sessions: 4, loops: 2, setups: 3, runs: 3 };
const spread = { sdCar: 0.02, sdCarLoop: 0.01, sdSession: 0.01, sdRun: 0.01, u: 0.003 };

/** Of three setups 2 % apart; the wind and the air of each run were taken out of what was measured. */
const rows: WayRun[] = simulateRuns({ ...shape, ...spread }, 3).map((row, i) => {
  const [windLog, airLog] = [-0.03 * Math.abs(drawNormal(random)), 0.02 * drawNormal(random)];
  const measuredZ = row.z - windLog - airLog;
  const traffic = traffics[i % 3] as (typeof traffics)[number];
  return { ...row, model: 'one', measuredZ, windLog, airLog, isRetrospective: i % 7 === 0, traffic };
});

/** Generalised least squares of the textbook, with more columns beside the setups'. */
function denseDifference(of: readonly WayRun[], more: (row: WayRun) => number[], pair: [string, string]) {
  const dense = denseFit(of, components);
  const X: Matrix = of.map((row, i) => [...(dense.X[i] as number[]), ...more(row)]);
  const weighted = multiply(transpose(X), dense.Vinverse);
  const { inverse: covariance } = invert(multiply(weighted, X));
  const beta = multiply(
    covariance,
    multiply(
      weighted,
      dense.z.map((z) => [z]),
    ),
  ).map(([b]) => b as number);
  const [i, j] = pair.map((setup) => dense.setups.indexOf(setup)) as [number, number];
  const at = (x: number, y: number) => covariance[x]?.[y] as number;
  return {
    difference: (beta[i] as number) - (beta[j] as number),
    variance: at(i, i) + at(j, j) - 2 * at(i, j),
  };
}

const options = { priors: youngClassSpread(), stragglerLevel: 0.05, draws: 500 };
const fit = fitGroup(rows, options);
const found = otherWays(rows, fit, options) ?? [];
const pair = found.find(({ a, b }) => a === 'setup 0' && b === 'setup 2')?.found;
const wayOf = (way: string) => pair?.ways.find((one) => one.way === way);

describe('one more fixed effect', () => {
  it('is that of the dense model with its columns', () => {
    const of = withFixedEffect(rows, components, ({ traffic }) => traffic);
    const dense = denseDifference(
      rows,
      ({ traffic }) => [Number(traffic === 'moderate'), Number(traffic === 'free')],
      ['setup 0', 'setup 2'],
    );
    const own = of('setup 0', 'setup 2');
    expect(own?.difference).toBeCloseTo(dense.difference, 9);
    expect(own?.variance).toBeCloseTo(dense.variance, 9);
  });

  it('has no answer between setups that no level joins', () => {
    const apart = rows.map((row) => ({ ...row, loop: row.setup === 'setup 0' ? 'coast' : 'forest' }));
    const of = withFixedEffect(apart, components, ({ loop }) => loop ?? '');
    expect(of('setup 0', 'setup 1')).toBeNull();
    expect(of('setup 1', 'setup 2')).not.toBeNull();
  });
});

describe('same-session pairs alone', () => {
  it('are least squares with every session as a column', () => {
    const two = rows.filter(({ setup }) => setup !== 'setup 1');
    const keyOf = (row: WayRun) => `${row.car} ${row.loop} ${row.session}`;
    const sessions = [...new Set(two.map(keyOf))];
    const both = sessions.filter(
      (key) => new Set(two.filter((row) => keyOf(row) === key).map((r) => r.setup)).size > 1,
    );
    const of = two.filter((row) => both.includes(keyOf(row)));
    const dense = denseDifference(of, (row) => both.slice(1).map((key) => Number(key === keyOf(row))), [
      'setup 0',
      'setup 2',
    ]);
    const own = new SameSession(rows, components).differenceOf('setup 0', 'setup 2');
    expect(own?.difference).toBeCloseTo(dense.difference, 9);
    expect(own?.variance).toBeCloseTo(dense.variance, 9);
  });
});

describe('a difference computed other ways', () => {
  it('has every way that the runs allow, and every comparable pair', () => {
    expect(found).toHaveLength(fit.contrasts.filter(({ interval95 }) => interval95 !== null).length);
    expect(pair?.ways.map(({ way }) => way)).toEqual([
      'asMeasured',
      'withoutWind',
      'withoutAir',
      'sameSession',
      'loopFixed',
      'withoutRetrospective',
      'withoutDenseTraffic',
      'trafficFixed',
    ]);
    expect(pair?.same).toEqual(['withoutStragglers']);
  });

  it('takes out of each run what the way leaves out', () => {
    const measured = fitGroup(
      rows.map((row) => ({ ...row, z: row.measuredZ as number })),
      options,
    );
    const published = (of: typeof fit) => of.contrasts.find(({ a, b }) => a === 'setup 0' && b === 'setup 2');
    expect(wayOf('asMeasured')?.difference).toBeCloseTo(published(measured)?.difference as number, 9);
    expect(wayOf('asMeasured')?.interval?.[1]).toBeCloseTo(published(measured)?.interval95?.[1] as number, 9);
    const free = fitGroup(
      rows.filter(({ traffic }) => traffic !== 'dense'),
      options,
    );
    expect(wayOf('withoutDenseTraffic')?.difference).toBeCloseTo(published(free)?.difference as number, 9);
    // Neither step at all is as measured.
    const still = rows.map((row) => ({ ...row, airLog: 0, windLog: (row.windLog ?? 0) + (row.airLog ?? 0) }));
    const again = otherWays(still, fit, options)?.find(
      ({ a, b }) => a === 'setup 0' && b === 'setup 2',
    )?.found;
    const windless = again?.ways.find(({ way }) => way === 'withoutWind');
    expect(windless?.difference).toBeCloseTo(wayOf('asMeasured')?.difference as number, 9);
  });

  it('leaves out each car in turn', () => {
    const cars = [...new Set(rows.map(({ car }) => car))];
    const differences = cars.map((car) => {
      const { beta } = denseFit(
        rows.filter((row) => row.car !== car),
        fit.components,
      );
      return (beta[0] as number) - (beta[2] as number);
    });
    expect(pair?.carsLeftOut).toMatchObject({ cars: 6, answered: 6, sameSign: 6 });
    expect(pair?.carsLeftOut?.low).toBeCloseTo(Math.min(...differences), 8);
    expect(pair?.carsLeftOut?.high).toBeCloseTo(Math.max(...differences), 8);
  });

  it('leaves out a straggler', () => {
    const odd = rows.map((row, i) => (i === 5 ? { ...row, z: row.z + 0.2 } : row));
    const of = otherWays(odd, fit, options);
    expect(of?.[0]?.found.same).not.toContain('withoutStragglers');
  });

  // the exact covariance of the class's estimates with matrices of the test's own
  it('takes what a day’s inputs do unequally as known and correlated, in the ways of its own too', () => {
    const sharers: WayRun[] = sharing(rows, 2).map((row, i) => ({
      ...(rows[i] as WayRun),
      shared: row.shared ?? [],
    }));
    const { truth, plain } = sandwich(sharers, components);
    const of = (a: Matrix) => (a[0]?.[0] as number) + (a[2]?.[2] as number) - 2 * (a[0]?.[2] as number);
    const ratio = of(truth) / of(plain);
    expect(spreadRatios(sharers, components)('setup 0', 'setup 2')).toBeCloseTo(ratio, 9);
    expect(ratio).not.toBeCloseTo(1, 2);
    expect(spreadRatios(rows, components)('setup 0', 'setup 2')).toBe(1);
    const own = fitGroup(sharers, options);
    const df = own.contrasts.find(({ a, b }) => a === 'setup 0' && b === 'setup 2')?.df as number;
    const ways = otherWays(sharers, { ...own, components }, options)?.find(
      ({ a, b }) => a === 'setup 0' && b === 'setup 2',
    )?.found.ways;
    const same = ways?.find(({ way }) => way === 'sameSession');
    const held = new SameSession(readyRows(sharers), components).differenceOf('setup 0', 'setup 2');
    const half = tUpperQuantile(0.025, df) * Math.sqrt((held?.variance as number) * ratio);
    expect((same?.interval?.[1] as number) - (same?.difference as number)).toBeCloseTo(half, 9);
  });

  it('is not computed for a class too large', () => {
    const many = Array.from({ length: MOST_SETUPS + 1 }, (_, i) => ({
      ...(rows[0] as WayRun),
      setup: `s${i}`,
    }));
    expect(otherWays(many, fit, options)).toBeNull();
  });

  it('leaves ways out whose numbers are not known', () => {
    const unknown = rows.map((row, i) => (i === 0 ? { ...row, windLog: null } : row));
    const ways = otherWays(unknown, fit, options)?.[0]?.found.ways.map(({ way }) => way);
    expect(ways).not.toContain('withoutWind');
    expect(ways).toContain('withoutAir');
  });
});
