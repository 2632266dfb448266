import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tUpperQuantile } from '@/lib/numerics/distributions';
import type { Variances } from '@/lib/stats/accumulate';
import { fitGroup } from '@/lib/stats/fitGroup';
import { fixedEffects, type NewRun, predictRun } from '@/lib/stats/prediction';
import { shrunkEffects } from '@/lib/stats/shrinkage';
import type { Observation } from '@/lib/stats/structure';
import { leaveOneOutResiduals } from '@/lib/stats/studentised';
import { denseFit, multiply } from './dense';
import { readTable } from './reference';
import { arbitraryRuns, simulateRuns } from './runs';

/** From the effects of all runs and those of the car alone. */
/** Of components that nobody estimated. */
const KNOWN = Array.from({ length: 4 }, () => [0, 0, 0, 0]);

const predicted = (
  runs: readonly Observation[],
  components: Variances,
  run: NewRun,
  covariance: readonly (readonly number[])[] = KNOWN,
) =>
  predictRun(
    fixedEffects(runs, components),
    runs.filter(({ car }) => car === run.car),
    components,
    covariance,
    run,
  );
const v = { car: 0.002, carLoop: 0.0008, session: 0.0006, residual: 0.0003 };

/** Only the residual was estimated, with this variance. */
const ofResidual = (variance: number) =>
  KNOWN.map((row, j) => row.map((_, k) => (j === 3 && k === 3 ? variance : 0)));

describe('leave-one-out residuals', { timeout: 30_000 }, () => {
  it('are what predicting each run from the others gives, by two separate routes', () => {
    fc.assert(
      fc.property(arbitraryRuns(true), (runs) => {
        const found = leaveOneOutResiduals(runs, v);
        const alone = runs.filter((r) => runs.filter((o) => o.setup === r.setup).length === 1);
        expect(found.length).toBe(runs.length - alone.length);
        for (const row of found) {
          const run = runs[row.index] as Observation;
          const others = runs.filter((_, i) => i !== row.index);
          const expected = predicted(others, v, run);
          if (expected === null) throw new Error('no prediction');
          expect(Math.abs(row.leaveOneOut - (run.z - expected.mean))).toBeLessThan(1e-8);
          expect(Math.abs(row.sd / expected.sd - 1)).toBeLessThan(1e-8);
        }
      }),
      { seed: 20, numRuns: 12 },
    );
  });

  it('are (Pz)_i / P_ii of the dense model', () => {
    const runs = simulateRuns(
      {
        cars: 4,
        sessions: 4,
        loops: 2,
        setups: 3,
        runs: 4,
        sdCar: 0.04,
        sdCarLoop: 0.02,
        sdSession: 0.02,
        sdRun: 0.02,
        u: 0.01,
      },
      2,
    );
    const dense = denseFit(runs, v);
    const Pz = multiply(
      dense.P,
      dense.z.map((x) => [x]),
    );
    for (const row of leaveOneOutResiduals(runs, v)) {
      const pii = dense.P[row.index]?.[row.index] as number;
      expect(row.leaveOneOut).toBeCloseTo((Pz[row.index]?.[0] as number) / pii, 9);
      expect(row.sd).toBeCloseTo(1 / Math.sqrt(pii), 9);
    }
  });

  it('are R rstudent in the model without cars and sessions', () => {
    // One mean, values 1 2 3 4 10: the externally studentised residual of a value is its t against the mean of
    // the other four, (x − m) / (s √(1 + 1/4)); for 10: m = 2.5, s = √(5/3). R: rstudent(lm(y ~ 1)).
    const runs = [1, 2, 3, 4, 10].map((z, i) => ({ setup: 'a', car: 'k', session: `${i}`, z, u: 0 }));
    const found = leaveOneOutResiduals(runs, { car: 0, carLoop: 0, session: 0, residual: 2.5 });
    expect(found[4]?.studentised).toBeCloseTo(7.5 / Math.sqrt((5 / 3) * 1.25), 9);
    expect(found[4]?.leaveOneOut).toBeCloseTo(7.5, 9);
    expect(found.every((row) => row.pHolm >= row.p)).toBe(true);
  });

  it('sends a misread digit to the top and does not cry wolf otherwise', () => {
    let flagged = 0;
    let caught = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const runs = simulateRuns(
        { cars: 5, sessions: 3, setups: 3, runs: 4, sdCar: 0.03, sdSession: 0.02, sdRun: 0.015, u: 0 },
        seed,
      );
      const components = { car: 0.0009, carLoop: 0, session: 0.0004, residual: 0.000225 };
      if (leaveOneOutResiduals(runs, components).some((r) => r.pHolm < 0.05)) flagged++;
      const spoiled = runs.map((r, i) => (i === 17 ? { ...r, z: r.z + 0.1 } : r));
      const worst = leaveOneOutResiduals(spoiled, components).sort((a, b) => a.pHolm - b.pHolm)[0];
      if (worst?.index === 17 && worst.pHolm < 0.05) caught++;
    }
    // 5 % of 40 clean groups is 2; seven or more would be a chance of about 0.3 %.
    expect(flagged).toBeLessThan(7);
    expect(caught).toBeGreaterThanOrEqual(38);
  });
});

describe('prediction of a new run', () => {
  const runs = simulateRuns(
    { cars: 6, sessions: 3, setups: 3, runs: 4, sdCar: 0.04, sdSession: 0.02, sdRun: 0.015, u: 0 },
    6,
  );

  it('leans on less for a new day and a new car, and says so', () => {
    const of = (car: string, session: string) => predicted(runs, v, { setup: 'setup 1', car, session, u: 0 });
    const [known, newDay, newCar] = [of('car 1', 'day 1'), of('car 1', 'day 9'), of('car 9', 'day 1')];
    expect(known).toMatchObject({ knowsCar: true, knowsLoop: true, knowsSession: true });
    const newLoop = predicted(runs, v, { setup: 'setup 1', car: 'car 1', loop: 'x', session: 'day 1', u: 0 });
    expect(newLoop).toMatchObject({ knowsCar: true, knowsLoop: false, knowsSession: false });
    expect(newLoop?.sd).toBeGreaterThan(newDay?.sd as number);
    expect(newLoop?.sd).toBeLessThan(newCar?.sd as number);
    expect(newDay).toMatchObject({ knowsCar: true, knowsSession: false });
    expect(newCar).toMatchObject({ knowsCar: false, knowsSession: false });
    expect(known?.sd).toBeLessThan(newDay?.sd as number);
    expect(newDay?.sd).toBeLessThan(newCar?.sd as number);
    const half = tUpperQuantile(0.025, 1e9) * (known?.sd as number);
    expect((known?.interval?.[1] as number) - (known?.mean as number)).toBeCloseTo(half, 12);
  });

  it('is the estimate itself with all the variance for a new car', () => {
    const fit = fitGroup(runs);
    const estimate = fit.estimates.find((e) => e.setup === 'setup 1');
    const run = { setup: 'setup 1', car: 'new', session: 'new', u: 0.01 };
    const found = predicted(runs, fit.components, run, fit.componentCovariance);
    expect(found?.mean).toBeCloseTo(estimate?.beta as number, 10);
    const { car, session, residual } = fit.components;
    // Kenward–Roger inflates the estimate's own part a little; the prediction uses the plain covariance.
    expect((found?.sd as number) ** 2).toBeGreaterThan(car + session + residual + 0.0001);
    expect((found?.sd as number) ** 2).toBeLessThanOrEqual(
      car + session + residual + 0.0001 + (estimate?.se as number) ** 2 + 1e-12,
    );
  });

  it('has no opinion on a setup nobody has driven', () => {
    expect(predicted(runs, v, { setup: 'other', car: 'car 1', session: 'day 1', u: 0 })).toBeNull();
  });

  it('is the plain prediction interval where runs are all that varies', () => {
    // ȳ ± t(n − 1) s √(1 + 1/n): Hahn G. J. (1969), JASA 64, 878; the variance of s² is 2σ⁴/(n − 1)
    const values = [5.01, 5.03, 4.99, 5.02, 5.0, 5.04];
    const n = values.length;
    const mean = values.reduce((sum, x) => sum + x, 0) / n;
    const s2 = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (n - 1);
    const alone = values.map((z, i) => ({ setup: 'one', car: `car ${i}`, session: 'day', z, u: 0 }));
    const found = predicted(
      alone,
      { car: 0, carLoop: 0, session: 0, residual: s2 },
      { setup: 'one', car: 'new', session: 'day', u: 0 },
      ofResidual((2 * s2 ** 2) / (n - 1)),
    );
    const half = tUpperQuantile(0.025, n - 1) * Math.sqrt(s2 * (1 + 1 / n));
    expect(found?.interval?.[0]).toBeCloseTo(mean - half, 8);
    expect(found?.interval?.[1]).toBeCloseTo(mean + half, 8);
  });

  it('claims no interval on fewer than three degrees of freedom', () => {
    const two = [5, 5.02].map((z, i) => ({ setup: 'one', car: `car ${i}`, session: 'day', z, u: 0 }));
    const components = { car: 0, carLoop: 0, session: 0, residual: 0.0002 };
    const run = { setup: 'one', car: 'x', session: 'y', u: 0 };
    expect(predicted(two, components, run, ofResidual(2 * 0.0002 ** 2))?.interval).toBeNull();
  });
});

describe('shrunken cars and sessions', () => {
  it('are the random effects of lme4 on Dyestuff', () => {
    const runs = readTable('Dyestuff').map((row) => ({
      setup: 'all',
      car: row.Batch as string,
      session: '',
      z: Number(row.Yield),
      u: 0,
    }));
    const { cars } = shrunkEffects(runs, { car: 1764.05, carLoop: 0, session: 0, residual: 2451.25 });
    // ranef(lmer(Yield ~ 1 + (1 | Batch), Dyestuff)) as printed in lme4's book draft, from memory; each is
    // 5·1764.05/(5·1764.05 + 2451.25) = 0.78253 of the batch's deviation.
    const wanted = [-17.60685, 0.3912634, 28.56223, -23.08454, 56.73319, -44.99529];
    cars.forEach((row, i) => {
      expect(Math.abs(row.effect - (wanted[i] as number))).toBeLessThan(2e-4);
      expect(row.kept).toBeCloseTo(0.78253, 5);
    });
  });

  it('are the dense predictions and their standard errors', () => {
    const runs = simulateRuns(
      {
        cars: 4,
        sessions: 4,
        loops: 2,
        setups: 3,
        runs: 3,
        sdCar: 0.04,
        sdCarLoop: 0.02,
        sdSession: 0.02,
        sdRun: 0.02,
        u: 0.01,
      },
      3,
    );
    const dense = denseFit(runs, v);
    const Pz = multiply(
      dense.P,
      dense.z.map((x) => [x]),
    ).map((row) => row[0] as number);
    const { cars, carsOnLoops, sessions } = shrunkEffects(runs, v);
    const sum = (weights: readonly number[], of: (i: number) => number) =>
      weights.reduce((total, x, i) => total + x * of(i), 0);
    const of = (row: { car: string; loop: string; session: string }) => {
      const isCar = runs.map((r) => Number(r.car === row.car));
      const isLoop = runs.map((r, i) => (isCar[i] as number) * Number(r.loop === row.loop));
      const isSession = runs.map((r, i) => (isLoop[i] as number) * Number(r.session === row.session));
      return { isCar, isLoop, isSession };
    };
    // Covariance of the effect with each run, c; its own variance, own. BLUP c'Pz, variance own − c'Pc.
    const check = (row: { effect: number; se: number }, c: readonly number[], own: number) => {
      expect(row.effect).toBeCloseTo(
        sum(c, (i) => Pz[i] as number),
        10,
      );
      const known = sum(c, (i) => sum(c, (j) => dense.P[i]?.[j] as number));
      expect(row.se ** 2).toBeCloseTo(own - known, 10);
    };
    for (const row of cars) {
      check(
        row,
        of(row).isCar.map((x) => v.car * x),
        v.car,
      );
    }
    for (const row of carsOnLoops) {
      const { isCar, isLoop } = of(row);
      const c = isCar.map((x, i) => v.car * x + v.carLoop * (isLoop[i] as number));
      check(row, c, v.car + v.carLoop);
    }
    for (const row of sessions) {
      check(
        row,
        of(row).isSession.map((x) => v.session * x),
        v.session,
      );
    }
    expect([cars.length, carsOnLoops.length, sessions.length]).toEqual([4, 8, 16]);
  });
});
