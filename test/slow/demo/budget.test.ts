import { describe, expect, it } from 'vitest';
import { judgedRuns } from '../../bench/budgetCoverage';

/**
 * A small one of `npm run bench -- coverage`: two worlds whose truth draws the run's own priors. Their errors are
 * independent from run to run, so that rms(error/u) is known to ± 1/√(2n), widened by what the bands of method A5.3
 * allow the model itself (± 7 %); 99.9 % of a normal lies within 3.29.
 */
function runRatio(stretch: number): { ratio: number; low: number; high: number } {
  const runs = [501, 502].flatMap((seed) =>
    judgedRuns(seed, { scopes: ['run'], stretch }, { isAsDelivered: true }),
  );
  const squares = runs.map(
    ({ error, result }) => (error / (result.uByScope.run / result.normalisedWhPerKm)) ** 2,
  );
  const ratio = Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / runs.length);
  const reach = 0.07 + 3.29 / Math.sqrt(2 * runs.length);
  return { ratio, low: 1 - reach, high: 1 + reach };
}

describe('the budget of single runs against a truth that draws its priors', () => {
  it('states the run’s own part as large as it is, and would notice one of two thirds its size', () => {
    const fair = runRatio(1);
    expect(fair.ratio).toBeGreaterThan(fair.low);
    expect(fair.ratio).toBeLessThan(fair.high);
    const wrong = runRatio(1.5);
    expect(wrong.ratio).toBeGreaterThan(wrong.high);
  });
});
