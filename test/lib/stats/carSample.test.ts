import { describe, expect, it } from 'vitest';
import { sampleOfCars } from '@/lib/stats/carSample';
import { evaluate } from '@/lib/stats/criterion';
import { inUnitsOf, prepare } from '@/lib/stats/problem';
import { fitReml } from '@/lib/stats/reml';
import { layOutRuns } from '@/lib/stats/structure';
import { simulateRuns } from './runs';

const shape = {
  sessions: 2,
  loops: 2,
  setups: 6,
  runs: 5,
  sdCar: 0.03,
  sdCarLoop: 0.01,
  sdSession: 0.02,
  sdRun: 0.01,
};
const runs = simulateRuns({ ...shape, cars: 2100, u: 0.004 }, 8);
const free = { car: true, carLoop: false, session: true, residual: true };

describe('a sample of a large problem’s cars', { timeout: 60_000 }, () => {
  const problem = prepare(layOutRuns(runs));
  const sample = sampleOfCars(problem);

  it('is the problem of every sixteenth car, laid out by itself', () => {
    const names = [...new Set(runs.map(({ car }) => car))].sort();
    const chosen = new Set(names.filter((_, i) => i % 16 === 0));
    const own = prepare(layOutRuns(runs.filter(({ car }) => chosen.has(car))));
    expect(sample?.structure).toMatchObject({ cars: chosen.size, runs: own.structure.runs });
    const variances = { car: 0.6, carLoop: 0, session: 0.25, residual: 0.1 };
    const at = evaluate(sample as NonNullable<typeof sample>, variances, false);
    expect(at.deviance).toBeCloseTo(evaluate(inUnitsOf(own, problem.scale), variances, false).deviance, 6);
  });

  it('leads to the optimum that a search over all runs from elsewhere finds', () => {
    const fast = fitReml(problem, free);
    const far = { car: 0.0004, carLoop: 0, session: 0.0002, residual: 0.0004 };
    const whole = fitReml(problem, free, { start: far });
    expect([fast.converged, whole.converged]).toEqual([true, true]);
    expect(fast.evaluations).toBeLessThanOrEqual(6);
    for (const name of ['car', 'session', 'residual'] as const) {
      expect(fast.at.variances[name] / whole.at.variances[name]).toBeCloseTo(1, 9);
    }
  });

  it('is not taken of a small one', () => {
    expect(sampleOfCars(prepare(layOutRuns(runs.slice(0, 10_000))))).toBeNull();
  });
});
