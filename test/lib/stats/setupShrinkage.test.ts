import { describe, expect, it } from 'vitest';
import type { Variances } from '@/lib/stats/accumulate';
import { type ModelRun, observationOf } from '@/lib/stats/modelRuns';
import { setupShrinkage } from '@/lib/stats/setupShrinkage';
import { shrunkEffects } from '@/lib/stats/shrinkage';
import { modelRun } from './modelRun';
import { readTable } from './reference';

/** Of one setup among all runs of the model. */
const deviations = (
  runs: readonly ModelRun[],
  { setupId, logMean }: { setupId: string; logMean: number },
  { components, residualDf }: { components: Variances; residualDf: number },
) =>
  setupShrinkage(
    runs.filter((run) => run.setupId === setupId),
    shrunkEffects(runs.map(observationOf), components),
    logMean,
    residualDf,
  );
const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;

describe('cars and days shrunk toward a setup', () => {
  // Three cars of four runs of one day each, no day variance.
  const cars = { a: [5.1, 5.12, 5.14, 5.12], b: [5.2, 5.22, 5.18, 5.2], c: [5.31, 5.3, 5.28, 5.31] };
  const runs = Object.entries(cars).flatMap(([carId, values]) =>
    values.map((z, i) => modelRun({ number: i, carId, sessionId: `${carId} day`, z })),
  );
  const logMean = mean(Object.values(cars).flat());
  const vT = 0.004;
  const v = 0.0009;
  const fit = { components: { car: vT, carLoop: 0, session: 0, residual: v }, residualDf: 9 };

  it('keep n·vT/(n·vT + v) of the mean deviation in a balanced layout: Robinson (1991), by hand', () => {
    const found = deviations(runs, { setupId: 'base', logMean }, fit);
    expect(found.map((car) => car.carId)).toEqual(['a', 'b', 'c']);
    const kept = (4 * vT) / (4 * vT + v);
    for (const car of found) {
      const deviation = mean(cars[car.carId as keyof typeof cars]) - logMean;
      expect(car.runs).toBe(4);
      expect(car.kept).toBeCloseTo(kept, 12);
      expect(Math.log1p(car.fromEstimate)).toBeCloseTo(deviation, 12);
      expect(Math.log1p(car.effect)).toBeCloseTo(kept * deviation, 12);
      expect(Math.log(car.believedWhPerKm)).toBeCloseTo(logMean + kept * deviation, 12);
      // Error variance vT − vT²(1'P1) with 1'P1 = (1 − 1/3)·4/(4 vT + v); t with 9 degrees of freedom: 2.262.
      const half = 2.262 * Math.sqrt(vT * (1 - kept * (1 - 1 / 3)));
      expect(Math.log1p(car.high) - Math.log1p(car.effect)).toBeCloseTo(half, 4);
      expect(Math.log1p(car.effect) - Math.log1p(car.low)).toBeCloseTo(half, 4);
      expect(car.sessions.map((day) => Math.abs(day.effect))).toEqual([0]);
    }
  });

  it('are the random effects of lme4 on Dyestuff', () => {
    // Yields in thousands serve as logarithms, so the components are in millionths.
    const batches = readTable('Dyestuff').map((row) =>
      modelRun({ carId: row.Batch as string, sessionId: row.Batch as string, z: Number(row.Yield) / 1000 }),
    );
    const found = deviations(
      batches,
      { setupId: 'base', logMean: 1.5275 },
      { components: { car: 1764.05e-6, carLoop: 0, session: 0, residual: 2451.25e-6 }, residualDf: 29 },
    );
    // ranef(lmer(Yield ~ 1 + (1 | Batch), Dyestuff)) as printed in lme4's book draft, from memory.
    const wanted = [-17.60685, 0.3912634, 28.56223, -23.08454, 56.73319, -44.99529];
    expect(found).toHaveLength(6);
    found.forEach((car, i) => {
      expect(Math.abs(1000 * Math.log1p(car.effect) - (wanted[i] as number))).toBeLessThan(2e-4);
    });
  });

  it('lay n·vS/(n·vS + v) of what a day holds beyond its car on the day: the mixed model equations by hand', () => {
    const vS = 0.0006;
    const days = [
      ['a', 'a1', 5.1, 5.13],
      ['a', 'a2', 5.16, 5.18],
      ['b', 'b1', 5.2, 5.22],
      ['b', 'b2', 5.19, 5.24],
    ] as const;
    const some = days.flatMap(([carId, sessionId, ...values]) =>
      values.map((z) => modelRun({ carId, sessionId, z })),
    );
    const centre = mean(some.map((run) => Math.log(run.normalisedWhPerKm)));
    const found = deviations(
      some,
      { setupId: 'base', logMean: centre },
      { components: { car: vT, carLoop: 0, session: vS, residual: v }, residualDf: 7 },
    );
    // Henderson (1975): (n/v + 1/vS) Ŝ = n/v (day's mean − estimate − T̂).
    for (const car of found) {
      for (const day of car.sessions) {
        const [, , ...values] = days.find(([, name]) => name === day.sessionId) ?? days[0];
        const beyondCar = mean(values) - centre - Math.log1p(car.effect);
        expect(Math.log1p(day.effect)).toBeCloseTo(((2 * vS) / (2 * vS + v)) * beyondCar, 12);
        expect(Math.log(day.believedWhPerKm)).toBeCloseTo(
          centre + Math.log1p(car.effect) + Math.log1p(day.effect),
          12,
        );
      }
    }
    expect(found.map((car) => car.sessions.length)).toEqual([2, 2]);
  });

  it('lean on the car’s runs of other setups, tell only of the one asked for, and part loops', () => {
    const other = runs.map((run) => ({
      ...run,
      setupId: 'low',
      normalisedWhPerKm: run.normalisedWhPerKm * 0.95,
    }));
    const alone = deviations(runs, { setupId: 'base', logMean }, fit);
    const both = deviations([...runs, ...other], { setupId: 'base', logMean }, fit);
    expect(both).toHaveLength(3);
    expect(both[0]?.runs).toBe(4);
    // Twice the runs with the same deviation: 8·vT/(8·vT + v).
    expect(both[0]?.kept).toBeCloseTo((8 * vT) / (8 * vT + v), 12);
    expect(both[0]?.kept ?? 0).toBeGreaterThan(alone[0]?.kept ?? 1);
    const elsewhere = runs.map((run, i) => (i % 2 === 0 ? run : { ...run, loopId: 'hill' }));
    expect(deviations(elsewhere, { setupId: 'base', logMean }, fit)).toHaveLength(6);
  });
});
