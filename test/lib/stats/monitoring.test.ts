import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chiSquareLowerQuantile } from '@/lib/numerics/distributions';
import { createRandom, drawNormal } from '@/lib/numerics/random';
import {
  boundAtAnyLook,
  fitPair,
  type PairSession,
  runLevelHalfWidth,
  sessionLevelLimit,
} from '@/lib/stats/monitoring';
import { plannedInterval } from '@/lib/stats/plannedPair';
import { readTable } from './reference';

/** A B B A of two setups, in sums, from runs in driving order. */
function session(baseline: readonly number[], setup: readonly number[]): PairSession {
  const mean = (own: readonly number[]) => own.reduce((sum, z) => sum + z, 0) / own.length;
  const squares = (own: readonly number[]) => own.reduce((sum, z) => sum + (z - mean(own)) ** 2, 0);
  return {
    setupRuns: setup.length,
    baselineRuns: baseline.length,
    difference: baseline.length && setup.length ? mean(setup) - mean(baseline) : 0,
    withinSquares: (baseline.length && squares(baseline)) + (setup.length && squares(setup)),
  };
}

describe('the bound on runs that holds however often one looks', () => {
  /** A B B A sessions: information 1 and 3n − 1 degrees of freedom; the method's table is of simulated medians. */
  const atMedian = (n: number, d0: number) => {
    const df = 3 * n - 1;
    return runLevelHalfWidth({ information: n, df, squares: chiSquareLowerQuantile(0.5, df) }, 0.05, {
      d0,
      s0Squared: 1,
    });
  };

  it.each([
    [1, null, 4.3],
    [2, 3.15, 2.62],
    [3, 2.23, 2.06],
    [4, 1.84, 1.76],
    [6, 1.44, 1.42],
  ])('has the half-width of the method’s table after %i sessions', (n, exact, lent) => {
    // Stated to two places, as medians of simulated studies; the width of the median spread is that to within 1 %.
    if (exact === null) expect(atMedian(n, 0)).toBeNull();
    else expect(Math.abs((atMedian(n, 0) as number) / exact - 1)).toBeLessThan(0.01);
    expect(Math.abs((atMedian(n, 4) as number) / lent - 1)).toBeLessThan(0.01);
  });

  it('is the two-sided bound of the Bayes factor that it inverts', () => {
    // Independent of the closed form: at the end of the interval the factor itself, marginal over drift and spread with
    // the right-Haar measure, is 1/α. B = k^(-1/2) (Q0/Q1)^((ν+1)/2), Q0 = RSS + H δ², Q1 = RSS + H δ²/k.
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        fc.integer({ min: 5, max: 80 }),
        fc.double({ min: 0.1, max: 100, noNaN: true }),
        (information, df, squares) => {
          const width = runLevelHalfWidth({ information, df, squares }, 0.05);
          const k = 1 + 8 * information;
          if (width === null) {
            expect(k).toBeLessThanOrEqual((Math.sqrt(k) / 0.05) ** (2 / (df + 1)));
            return;
          }
          const q0 = squares + information * width ** 2;
          const q1 = squares + (information * width ** 2) / k;
          const factor = (q0 / q1) ** ((df + 1) / 2) / Math.sqrt(k);
          expect(factor).toBeCloseTo(20, 6);
        },
      ),
      { seed: 4 },
    );
  });
});

describe('the bound on sessions', () => {
  it.each([
    [3, null],
    [4, 7.21],
    [5, 5.36],
    [6, 4.73],
    [8, 4.2],
    [10, 3.97],
    [12, 3.84],
    [16, 3.7],
    [20, 3.63],
    [40, 3.54],
  ])('has the limit of the method’s table at %i', (n, limit) => {
    const found = sessionLevelLimit(n, 0.05);
    if (limit === null) expect(found).toBeNull();
    else expect(found).toBeCloseTo(limit, 1);
    if (limit !== null) expect(Math.abs((found as number) - limit)).toBeLessThanOrEqual(0.0051);
  });
});

describe('a pair’s fit', () => {
  it('is the paired t test of R’s sleep data where each session has one run of each', () => {
    // R: t.test(extra ~ group, data = sleep, paired = TRUE): mean of differences −1.58, 95 % −2.459886 to −0.7001142.
    const rows = readTable('sleep');
    const of = (group: string) => rows.filter((row) => row.group === group).map((row) => Number(row.extra));
    const [first, second] = [of('1'), of('2')];
    const sessions = first.map((z, i) => session([second[i] as number], [z]));
    const planned = plannedInterval(sessions, 0.05);
    expect(planned?.difference).toBeCloseTo(-1.58, 9);
    expect(planned?.interval?.[0]).toBeCloseTo(-2.459886, 6);
    expect(planned?.interval?.[1]).toBeCloseTo(-0.7001142, 6);
  });

  it('is the least-squares fit of setup and session', () => {
    // Normal equations of the additive model, solved by sweeping sessions and setups in turn until nothing moves.
    const random = createRandom(8);
    const runs = [
      [2, 2],
      [1, 2],
      [3, 1],
      [0, 2],
    ].map(([b, s]) => ({
      baseline: Array.from({ length: b as number }, () => drawNormal(random)),
      setup: Array.from({ length: s as number }, () => drawNormal(random)),
    }));
    let effect = 0;
    let means = runs.map(() => 0);
    for (let sweep = 0; sweep < 2000; sweep++) {
      means = runs.map(({ baseline, setup }) => {
        const all = [...baseline, ...setup.map((z) => z - effect)];
        return all.reduce((sum, z) => sum + z, 0) / all.length;
      });
      const left = runs.flatMap(({ setup }, j) => setup.map((z) => z - (means[j] as number)));
      effect = left.reduce((sum, z) => sum + z, 0) / left.length;
    }
    const squares = runs.reduce(
      (sum, { baseline, setup }, j) =>
        sum +
        baseline.reduce((own, z) => own + (z - (means[j] as number)) ** 2, 0) +
        setup.reduce((own, z) => own + (z - (means[j] as number) - effect) ** 2, 0),
      0,
    );
    const fit = fitPair(runs.map(({ baseline, setup }) => session(baseline, setup)));
    expect(fit?.difference).toBeCloseTo(effect, 9);
    expect(fit?.squares).toBeCloseTo(squares, 9);
    expect(fit?.df).toBe(13 - 4 - 1);
    expect(fit?.sessions).toBe(3);
  });

  it('depends on the set of sessions, not on their order', () => {
    const cell = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell), { minLength: 2, maxLength: 6 }), (runs) => {
        const sessions = runs.map(([b, s]) => session(b, s));
        const one = boundAtAnyLook(sessions, 0.05, { d0: 4, s0Squared: 0.1 });
        const other = boundAtAnyLook([...sessions].reverse(), 0.05, { d0: 4, s0Squared: 0.1 });
        expect(one?.difference).toBeCloseTo(other?.difference as number, 9);
        expect(one?.level).toBe(other?.level);
      }),
      { seed: 3 },
    );
  });

  it('says nothing without a session of both, and turns to sessions where they disagree', () => {
    expect(fitPair([session([1, 2], [])])).toBeNull();
    const apart = [-3, 3, -2, 3, -3].map((d) => session([0, 0.01], [d, d + 0.01]));
    const bound = boundAtAnyLook(apart, 0.05);
    expect(bound?.level).toBe('sessions');
    expect(boundAtAnyLook(apart.slice(0, 3), 0.05)?.interval).toBeNull();
  });
});
