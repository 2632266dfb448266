import { describe, expect, it } from 'vitest';
import type { Variances } from '@/lib/stats/accumulate';
import type { ModelRun } from '@/lib/stats/modelRuns';
import { residualsBySetup, type ScreeningLevels } from '@/lib/stats/runScreening';
import { type Screening, screenSetup } from '@/lib/stats/screening';
import { modelRun } from './modelRun';
import { readResult, readTable } from './reference';

const levels = { stragglerLevel: 0.05, outlierLevel: 0.01 };
const components = { car: 0, carLoop: 0, session: 0, residual: 1e-4 };

/** One setup among all runs of the model. */
function screened(
  runs: readonly ModelRun[],
  setupId: string,
  given: Variances | undefined,
  at: ScreeningLevels,
): Screening {
  const own = runs.filter((run) => run.setupId === setupId);
  const residuals = given === undefined ? [] : (residualsBySetup(runs, given).get(setupId) ?? []);
  return screenSetup(own, residuals, at);
}

function byStandard(screening: Screening) {
  if (screening.by !== 'iso5725') throw new Error(`screened by ${screening.by}`);
  return screening;
}

function runsOf(cars: Record<string, readonly number[]>) {
  return Object.entries(cars).flatMap(([carId, values]) =>
    values.map((z, i) => modelRun({ number: i, carId, sessionId: `${carId} day`, z })),
  );
}

describe('screening by ISO 5725-2', () => {
  it('has the statistics and critical values of Dyestuff as evaluated in R', () => {
    const { Dyestuff: wanted } = readResult<{
      Dyestuff: Record<'h_crit5' | 'h_crit1' | 'k_crit5' | 'k_crit1', number> & {
        mandel_h: number[];
        mandel_k: number[];
        cochran: { C: number; crit5: number; crit1: number };
        grubbs1: { Ghigh: number; Glow: number; crit5: number; crit1: number };
      };
    }>('iso5725');
    // None of the statistics depends on the scale: yields in thousands serve as logarithms.
    const runs = readTable('Dyestuff').map((row) =>
      modelRun({ carId: row.Batch as string, sessionId: row.Batch as string, z: Number(row.Yield) / 1000 }),
    );
    const found = byStandard(screened(runs, 'base', components, levels));
    expect(found.runsEach).toBe(5);
    expect(found.cars).toHaveLength(6);
    found.cars.forEach((car, i) => {
      expect(car.h?.value).toBeCloseTo(wanted.mandel_h[i] as number, 9);
      expect(car.k?.value).toBeCloseTo(wanted.mandel_k[i] as number, 9);
      expect([car.h?.verdict, car.k?.verdict]).toEqual(['consistent', 'consistent']);
    });
    expect(found.criticalH.straggler).toBeCloseTo(wanted.h_crit5, 9);
    expect(found.criticalH.outlier).toBeCloseTo(wanted.h_crit1, 9);
    expect(found.criticalK.straggler).toBeCloseTo(wanted.k_crit5, 9);
    expect(found.criticalK.outlier).toBeCloseTo(wanted.k_crit1, 9);
    const [cochran, high, low] = found.extremes;
    expect(cochran).toMatchObject({ test: 'cochran', key: 'D loop', verdict: 'consistent' });
    expect(cochran?.value).toBeCloseTo(wanted.cochran.C, 9);
    expect(cochran?.critical.straggler).toBeCloseTo(wanted.cochran.crit5, 9);
    expect(cochran?.critical.outlier).toBeCloseTo(wanted.cochran.crit1, 9);
    expect(high).toMatchObject({ test: 'grubbsHigh', key: 'E loop', verdict: 'consistent' });
    expect(high?.value).toBeCloseTo(wanted.grubbs1.Ghigh, 9);
    expect(low).toMatchObject({ test: 'grubbsLow', key: 'F loop', verdict: 'consistent' });
    expect(low?.value).toBeCloseTo(wanted.grubbs1.Glow, 9);
    expect(low?.critical.straggler).toBeCloseTo(wanted.grubbs1.crit5, 8);
    expect(low?.critical.outlier).toBeCloseTo(wanted.grubbs1.crit1, 8);
  });

  const steady = Object.fromEntries(
    ['k', 'l', 'm', 'n', 'o'].map((car, i) => [car, [5 + i / 1000, 5.004 + i / 1000, 4.998 + i / 1000]]),
  );

  it('points at a scattered and at a far car, and keeps both', () => {
    const scattered = byStandard(
      screened(runsOf({ ...steady, wild: [4.9, 5, 5.1] }), 'base', components, levels),
    );
    expect(scattered.extremes[0]).toMatchObject({ test: 'cochran', key: 'wild loop', verdict: 'outlier' });
    expect(scattered.cars.find((car) => car.key === 'wild loop')?.k?.verdict).toBe('outlier');
    expect(scattered.cars).toHaveLength(6);
    const far = byStandard(
      screened(runsOf({ ...steady, far: [5.2, 5.204, 5.199] }), 'base', components, levels),
    );
    expect(far.extremes.map(({ key, verdict }) => [key, verdict]).slice(1)).toEqual([
      ['far loop', 'outlier'],
      ['k loop', 'consistent'],
    ]);
    expect(far.cars.find((car) => car.key === 'far loop')?.h?.verdict).toBe('outlier');
  });

  it('goes by the levels of the protocol', () => {
    const runs = runsOf({ ...steady, wild: [4.99, 5.007, 4.998] });
    const verdictAt = (given: typeof levels) =>
      byStandard(screened(runs, 'base', components, given)).extremes[0]?.verdict;
    expect(verdictAt({ stragglerLevel: 1e-9, outlierLevel: 1e-10 })).toBe('consistent');
    expect(verdictAt({ stragglerLevel: 0.999, outlierLevel: 1e-10 })).toBe('straggler');
    expect(verdictAt({ stragglerLevel: 0.999, outlierLevel: 0.99 })).toBe('outlier');
  });
});

describe('screening where the standard’s tests do not apply', () => {
  const reasonOf = (cars: Record<string, readonly number[]>) => {
    const found = screened(runsOf(cars), 'base', components, levels);
    return found.by === 'residuals' ? found.reason : undefined;
  };

  it('says why', () => {
    expect(reasonOf({ a: [5, 5.01], b: [5.02, 5] })).toBe('fewCars');
    expect(reasonOf({ a: [5, 5.01], b: [5.02, 5], c: [5] })).toBe('unequalCounts');
    expect(reasonOf({ a: [5], b: [5.02], c: [5.01] })).toBe('singleRuns');
  });

  // One sample of ten: nine about 5 with squares of 60e-6, and one so far off that Grubbs' statistic is G. With no car
  // or day variance, flagging the largest externally studentised residual by Bonferroni is Grubbs' test; Holm's
  // smallest adjusted p is Bonferroni's. Grubbs F. E. (1950); NIST/SEMATECH e-Handbook, 1.3.5.17.1.
  const sampleAt = (G: number) => {
    const near = [-4, -3, -2, -1, 0, 1, 2, 3, 4].map((x) => x / 1000);
    const off = Math.sqrt((G * G * 60e-6) / (7.29 - 0.9 * G * G));
    const values = [...near, off].map((x) => 5 + x);
    const runs = values.map((z, number) =>
      modelRun({ number, carId: number < 5 ? 'a' : 'b', sessionId: `day ${number % 2}`, z }),
    );
    const found = screened(runs, 'base', components, levels);
    if (found.by !== 'residuals') throw new Error('screened by the standard');
    return { values, runs: found.runs };
  };

  it.each([
    [2.285, 'consistent'],
    [2.295, 'straggler'],
    [2.477, 'straggler'],
    [2.487, 'outlier'],
  ])(
    'judges a sample of ten with G = %d as table 5 of ISO 5725-2:1994 does (2.290, 2.482): %s',
    (G, verdict) => {
      const { runs } = sampleAt(G);
      expect(runs).toHaveLength(10);
      expect(runs.find((run) => run.number === 9)?.verdict).toBe(verdict);
      expect(runs.slice(0, 9).every((run) => run.verdict === 'consistent')).toBe(true);
    },
  );

  it('sets each run against the mean and the spread of the others', () => {
    const { values, runs } = sampleAt(2);
    for (const run of runs) {
      const others = values.filter((_, i) => i !== run.number);
      const mean = others.reduce((sum, x) => sum + x, 0) / 9;
      const s = Math.sqrt(others.reduce((sum, x) => sum + (x - mean) ** 2, 0) / 8);
      const wanted = ((values[run.number] as number) - mean) / (s * Math.sqrt(1 + 1 / 9));
      expect(run.studentised).toBeCloseTo(wanted, 8);
    }
  });

  it('adjusts within the setup alone and passes over other setups and lone runs', () => {
    const low = [0, 1, 2, 3].map((i) => modelRun({ number: 100 + i, setupId: 'low', z: 4.9 + i / 500 }));
    const base = runsOf({ a: [5, 5.01, 5.004], b: [5.02, 5] });
    const found = screened([...base, ...low], 'low', components, levels);
    expect(found.by === 'residuals' && found.runs.map((run) => run.number)).toEqual([100, 101, 102, 103]);
    const least = found.by === 'residuals' ? Math.min(...found.runs.map((run) => run.p)) : 0;
    const adjusted = found.by === 'residuals' ? Math.min(...found.runs.map((run) => run.pHolm)) : 0;
    expect(adjusted).toBeCloseTo(Math.min(1, 4 * least), 12);
    const lone = screened([...base, modelRun({ setupId: 'lone' })], 'lone', components, levels);
    expect(lone).toMatchObject({ by: 'residuals', runs: [] });
  });

  it('flags nobody without a published spread', () => {
    expect(screened(runsOf({ a: [5, 6] }), 'base', undefined, levels)).toMatchObject({ runs: [] });
    const none = { car: 0, carLoop: 0, session: 0, residual: 0 };
    expect(screened(runsOf({ a: [5, 6] }), 'base', none, levels)).toMatchObject({ runs: [] });
  });
});
