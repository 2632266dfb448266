import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tUpper, tUpperQuantile } from '@/lib/numerics/distributions';
import { createRandom, drawNormal } from '@/lib/numerics/random';
import {
  detectableDifference,
  layoutPrecision,
  noncentralTUpper,
  type Pairing,
  powerOfLayout,
  powerOfTest,
  runsNeeded,
} from '@/lib/stats/power';
import { readResult } from './reference';

// R: power.t.test and pt(ncp = ).
interface Row {
  n: number;
  delta: number;
  sd: number;
  power: number;
}
type Tables = Record<
  | 'two_80'
  | 'two_90'
  | 'paired_80'
  | 'paired_90'
  | 'unpaired_session_80'
  | 'power_given_n'
  | 'power_given_n_strict'
  | 'mdd_given_n',
  Row[]
>;
const tables = readResult<Tables>('power');
const twoSample = (row: Row) => ({ se: row.sd * Math.sqrt(2 / row.n), df: 2 * (row.n - 1) });
const paired = (row: Row) => ({ se: row.sd / Math.sqrt(row.n), df: row.n - 1 });
/** R's default counts only the tail on the side of the difference. */
const oneTail = (delta: number, { se, df }: { se: number; df: number }) =>
  noncentralTUpper(tUpperQuantile(0.025, df), df, delta / se);

describe('power against R', () => {
  it('noncentral t tail', () => {
    const rows = readResult<{ pt_noncentral: { t: number; df: number; ncp: number; upper: number }[] }>(
      'distributions',
    ).pt_noncentral;
    for (const row of rows) {
      // R's pnt is good to about 1e-12 absolutely.
      expect(Math.abs(noncentralTUpper(row.t, row.df, row.ncp) - row.upper)).toBeLessThan(2e-11);
    }
  });

  it('reaches the stated power at the fractional n of power.t.test', () => {
    // power.t.test solves for n to about 1e-4 relative (its default tolerance), 1e-5 in power.
    for (const row of [...tables.two_80, ...tables.two_90, ...tables.unpaired_session_80]) {
      expect(Math.abs(oneTail(row.delta, twoSample(row)) - row.power)).toBeLessThan(2e-5);
    }
    for (const row of [...tables.paired_80, ...tables.paired_90]) {
      expect(Math.abs(oneTail(row.delta, paired(row)) - row.power)).toBeLessThan(2e-5);
    }
  });

  it('gives the power at a given n, one tail and both', () => {
    for (const row of tables.power_given_n)
      expect(oneTail(row.delta, twoSample(row))).toBeCloseTo(row.power, 9);
    for (const row of tables.power_given_n_strict) {
      const { se, df } = twoSample(row);
      expect(powerOfTest(row.delta, se, df)).toBeCloseTo(row.power, 9);
    }
  });

  it('finds the smallest detectable difference', () => {
    for (const row of tables.mdd_given_n) {
      const { se, df } = twoSample(row);
      const found = detectableDifference(se, df);
      // power.t.test solves for delta to 1.2e-4 absolutely (its default tolerance) and counts one tail only.
      expect(Math.abs(found - row.delta)).toBeLessThan(1.3e-4);
      expect(powerOfTest(found, se, df)).toBeCloseTo(0.8, 9);
    }
  });
});

describe('noncentral t', () => {
  it('is the central one at 0 and mirrors', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -8, max: 8, noNaN: true }),
        fc.double({ min: 1, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 6, noNaN: true }),
        (t, df, ncp) => {
          expect(noncentralTUpper(t, df, 0)).toBeCloseTo(tUpper(t, df), 11);
          expect(noncentralTUpper(t, df, ncp) + noncentralTUpper(-t, df, -ncp)).toBeCloseTo(1, 11);
        },
      ),
      { seed: 6, numRuns: 60 },
    );
  });
});

describe('layouts', { timeout: 30_000 }, () => {
  const v = { car: 0.04 ** 2, carLoop: 0, session: 0.025 ** 2, residual: 0.015 ** 2 };
  const u = 0.005;

  it('has the variance that simulated runs show', () => {
    // Setups a and b as the model draws them; the spread of the difference of their means over 20 000 studies.
    const random = createRandom(21);
    for (const pairing of ['same session', 'same car', 'different cars'] as Pairing[]) {
      const layout = { pairing, cars: 3, sessions: 2, runs: 2 };
      const run = () => Math.sqrt(v.residual + u * u) * drawNormal(random);
      const car = () => 0.04 * drawNormal(random);
      const session = () => 0.025 * drawNormal(random);
      const cars = pairing === 'different cars' ? layout.cars : 1;
      let sum = 0;
      const studies = 20_000;
      for (let i = 0; i < studies; i++) {
        let difference = 0;
        for (let q = 0; q < cars; q++) {
          const [ca, cb] = pairing === 'different cars' ? [car(), car()] : [0, 0];
          for (let m = 0; m < layout.sessions; m++) {
            const [sa, sb] = pairing === 'same session' ? [0, 0] : [session(), session()];
            for (let k = 0; k < layout.runs; k++) difference += ca + sa + run() - (cb + sb + run());
          }
        }
        sum += (difference / (cars * layout.sessions * layout.runs)) ** 2;
      }
      const { variance } = layoutPrecision(layout, v, u);
      // Five standard errors of a variance estimated from 20 000 studies: 5 √(2/20000).
      expect(Math.abs(sum / studies / variance - 1)).toBeLessThan(0.05);
    }
  });

  it('answers with the first layout that reaches the power', () => {
    for (const pairing of ['same session', 'same car', 'different cars'] as Pairing[]) {
      const question = {
        pairing,
        difference: Math.log(1.04),
        power: 0.8,
        variances: v,
        u,
        runsPerSession: 2,
      };
      const answer = runsNeeded({ ...question, sessionsPerCar: 2 });
      expect(answer).not.toBeNull();
      if (answer === null) continue;
      expect(answer.power).toBeGreaterThanOrEqual(0.8);
      const { layout } = answer;
      const fewer =
        pairing === 'different cars'
          ? { ...layout, cars: layout.cars - 1 }
          : { ...layout, sessions: layout.sessions - 1 };
      expect(powerOfLayout(fewer, question.difference, v, u)).toBeLessThan(0.8);
      expect(answer.runsPerSetup).toBe(layout.cars * layout.sessions * layout.runs);
    }
  });

  it('needs fewest runs in the same session, and says so when nothing is enough', () => {
    const ask = (pairing: Pairing) =>
      runsNeeded({ pairing, difference: 0.02, power: 0.8, variances: v, u, runsPerSession: 1, most: 400 });
    const [inSession, inCar] = [ask('same session'), ask('same car')];
    expect(inSession?.runsPerSetup).toBeLessThan(inCar?.runsPerSetup as number);
    expect(
      runsNeeded({
        pairing: 'different cars',
        difference: 1e-4,
        power: 0.9,
        variances: v,
        u,
        runsPerSession: 1,
        most: 50,
      }),
    ).toBeNull();
    expect(powerOfLayout({ pairing: 'same session', cars: 1, sessions: 1, runs: 4 }, 0.1, v, u)).toBe(0);
    expect(() => detectableDifference(1, 5, 0.01)).toThrow(RangeError);
  });
});
