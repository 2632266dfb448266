import { describe, expect, it } from 'vitest';
import { youngClassSpread } from '@/lib/physics/priors';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import { fadedWeight, moderationFor, seenDegrees } from '@/lib/stats/moderation';
import { prepare } from '@/lib/stats/problem';
import { fitReml } from '@/lib/stats/reml';
import { layOutRuns } from '@/lib/stats/structure';
import { simulateRuns } from './runs';

describe('what a young class borrows', { timeout: 60_000 }, () => {
  it('is v = (d0 s0² + d s²)/(d0 + d) with one component (Smyth 2004, eq. for the posterior variance)', () => {
    const values = [5, 5.02, 4.97, 5.05, 5.01, 4.99];
    const runs = values.map((z) => ({ setup: 'a', car: 'k', session: '1', z, u: 0 }));
    const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
    const d = values.length - 1;
    const s2 = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / d;
    const prior = { d0: 3.2, s2: 0.0004 };
    const problem = prepare(layOutRuns(runs));
    const fit = fitReml(
      problem,
      { car: false, carLoop: false, session: false, residual: true },
      { moderation: { residual: prior } },
    );
    const v = fit.at.variances.residual * problem.scale ** 2;
    expect(v / ((prior.d0 * prior.s2 + d * s2) / (prior.d0 + d))).toBeCloseTo(1, 10);
    // On d0 + d degrees of freedom: the expected information is (d0 + d)/(2 v²).
    const information = (fit.at.derivatives?.expected[15] as number) / problem.scale ** 4;
    expect(2 * v * v * information).toBeCloseTo(prior.d0 + d, 8);
  });

  it('is counted by levels less the connected parts of setups and levels', () => {
    const run = (setup: string, car: string, loop: string, session: string) => ({
      setup,
      car,
      loop,
      session,
      z: 5,
      u: 0,
    });
    // One session A B C: nothing between cars or days; N − p − lev(session) = 3 − 3 − 0 within it.
    const one = ['a', 'b', 'c'].map((setup) => run(setup, 'k', 'x', '1'));
    expect(seenDegrees(layOutRuns(one))).toEqual({ car: 0, carLoop: 0, session: 0, residual: 0 });
    // One setup, three cars: two between cars. A second day of one car: one more between days. Twice: one within.
    const three = ['k', 'l', 'm'].map((car) => run('a', car, 'x', '1'));
    expect(seenDegrees(layOutRuns(three)).car).toBe(2);
    const days = [...three, run('a', 'k', 'x', '2')];
    expect(seenDegrees(layOutRuns(days))).toEqual({ car: 2, carLoop: 0, session: 1, residual: 0 });
    const loops = [...days, run('a', 'k', 'y', '3'), run('a', 'k', 'y', '3')];
    expect(seenDegrees(layOutRuns(loops))).toEqual({ car: 2, carLoop: 1, session: 1, residual: 1 });
    // Two cars of two setups that share nothing are two parts.
    const apart = [run('a', 'k', 'x', '1'), run('b', 'l', 'x', '1')];
    expect(seenDegrees(layOutRuns(apart)).car).toBe(0);
  });

  it('fades to nothing at 20 degrees of freedom, without a jump', () => {
    expect([-1, 0, 5, 10, 20, 400].map(fadedWeight)).toEqual([4, 4, 3, 2, 0, 0]);
    const seen = { car: 19.999, carLoop: 0, session: 25, residual: 100 };
    const moderation = moderationFor(seen, { car: 1, session: 1, residual: 1 });
    expect(Object.keys(moderation)).toEqual(['car']);
    expect(moderation.car?.d0).toBeLessThan(1e-3);
    const shape = {
      cars: 30,
      sessions: 4,
      setups: 4,
      runs: 4,
      sdCar: 0.02,
      sdSession: 0.01,
      sdRun: 0.01,
      u: 0.003,
    };
    const rows = simulateRuns(shape, 9);
    const grown = fitGroup(rows, { draws: 200, priors: youngClassSpread() });
    expect(grown.origins).toMatchObject({ car: 'own', session: 'own', residual: 'own' });
    expect(grown.components).toEqual(fitGroup(rows, { draws: 200 }).components);
  });

  it('takes what the budgets put into car and session into the priors', () => {
    const rows: FitRow[] = ['a', 'b'].map((setup) => ({
      setup,
      car: 'k',
      session: '1',
      z: 5,
      u: 0.003,
      shared: [
        { key: 'auxiliary power of k', scope: 'car', contribution: 0.02 },
        { key: 'weather of 1', scope: 'session', contribution: -0.005 },
      ],
    }));
    const fit = fitGroup(rows, { draws: 100, priors: youngClassSpread() });
    expect(fit.components.car).toBeCloseTo(0.015 ** 2 + 0.02 ** 2, 10);
    expect(fit.components.session).toBeCloseTo(0.012 ** 2 + 0.005 ** 2, 10);
  });
});
