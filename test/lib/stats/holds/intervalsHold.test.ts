import { describe, expect, it } from 'vitest';
import { countCoverage, histogramOf, probabilityTransform, shareInterval } from '@/lib/stats/holds/coverage';
import { dispersions } from '@/lib/stats/holds/dispersion';
import { intervalsHold } from '@/lib/stats/holds/intervalsHold';
import { predictInTurn } from '@/lib/stats/holds/predictInTurn';
import { type ClassShape, PLAIN, publishedOf, REFIT, simulateClass } from './approvedRuns';

describe('a share with its interval', () => {
  it('is Wilson’s, at n/1.4', () => {
    // Newcombe R. G. (1998), Statistics in Medicine 17, 857, table I, method 3; values from memory.
    const published = [
      [81, 263, 0.2553, 0.3662],
      [15, 148, 0.0624, 0.1605],
      [0, 20, 0, 0.1611],
      [1, 29, 0.0061, 0.1718],
    ] as const;
    for (const [inside, of, low, high] of published) {
      const found = shareInterval(1.4 * inside, 1.4 * of);
      expect(found[0]).toBeCloseTo(low, 4);
      expect(found[1]).toBeCloseTo(high, 4);
    }
    expect(shareInterval(0, 0)).toEqual([0, 1]);
    expect(shareInterval(7, 7)[1]).toBe(1);
  });

  it('counts central intervals and tenths', () => {
    const transforms = [0, 0.02, 0.05, 0.3, 0.5, 0.74, 0.9, 0.98, 1];
    expect(countCoverage(transforms).map(({ inside }) => inside)).toEqual([3, 4, 5]);
    expect(histogramOf(transforms)).toEqual([3, 0, 0, 1, 0, 1, 0, 1, 0, 3]);
    expect(histogramOf([0.95, 1])[9]).toBe(2);
    // Student's t table: 2.571 leaves 2.5 % above it with 5 degrees of freedom.
    expect(probabilityTransform(2.571, 5)).toBeCloseTo(0.975, 4);
    expect(probabilityTransform(-2.571, 5)).toBeCloseTo(0.025, 4);
  });
});

const thirdScatters: ClassShape = { ...PLAIN, scatterOf: (car) => (car % 3 === 0 ? 3 : 1) };

/** Classes in which some test by Holm falls below the level that a class fails at. */
function called(shape: ClassShape, classes: number, seed: number): number {
  let count = 0;
  for (let i = 0; i < classes; i++) {
    const rows = simulateClass(shape, seed + i);
    const found = dispersions(predictInTurn(rows, publishedOf(rows)).predicted);
    if (found.some(({ pHolm }) => pHolm < 0.025)) count++;
  }
  return count;
}

describe('where the truth holds', () => {
  const classes = Array.from({ length: 12 }, (_, i) => simulateClass(PLAIN, 100 + i));
  const found = classes.map((rows) => intervalsHold(rows, publishedOf(rows), REFIT));

  it('the intervals hold as often as they say', () => {
    // 12 classes of about 220 predicted runs; the bands are 3.3 standard errors with the dependence of 1.4.
    for (const [i, level] of [0.5, 0.8, 0.95].entries()) {
      const inside = found.reduce((sum, { coverage }) => sum + (coverage[i]?.inside ?? 0), 0);
      const of = found.reduce((sum, { coverage }) => sum + (coverage[i]?.of ?? 0), 0);
      expect(of).toBeGreaterThan(2400);
      const error = Math.sqrt((1.4 * level * (1 - level)) / of);
      expect(Math.abs(inside / of - level), `${level}: ${inside} of ${of}`).toBeLessThan(3.3 * error);
    }
  });

  it('the cars lie where the others let expect', () => {
    const inside = found.reduce((sum, { cars }) => sum + (cars[1]?.inside ?? 0), 0);
    const of = found.reduce((sum, { cars }) => sum + (cars[1]?.of ?? 0), 0);
    expect(of).toBe(12 * 15);
    expect(Math.abs(inside / of - 0.8)).toBeLessThan(3.3 * Math.sqrt((1.4 * 0.16) / of));
  });

  it('every run is counted once, and the record is fitted anew as it grows', () => {
    found.forEach(({ runs, histogram, refits, coverage }, i) => {
      expect(runs.predicted + runs.notPredicted).toBe(classes[i]?.length);
      expect(histogram.reduce((sum, n) => sum + n, 0)).toBe(runs.predicted);
      expect(coverage[0]?.of).toBe(runs.predicted);
      expect(refits).toBeGreaterThan(15);
    });
  });

  it('a class is seldom called uneven', () => {
    // 2.5 % of 30 are 0.75; more than 4 come about once in 1 000 times.
    expect(called(PLAIN, 30, 1000)).toBeLessThanOrEqual(4);
  });
});

describe('where it does not', () => {
  it('a class is called uneven in which a third of the cars scatter three times as much', () => {
    // At least the power that was asked for, 79 %.
    expect(called(thirdScatters, 15, 2000)).toBeGreaterThanOrEqual(12);
    const rows = simulateClass(thirdScatters, 7);
    const { faults, dispersion, dispersionTests } = intervalsHold(rows, publishedOf(rows), REFIT);
    expect(faults).toContain('uneven');
    expect(dispersion.length).toBeLessThanOrEqual(12);
    expect(dispersionTests).toBeGreaterThan(dispersion.length);
    const [worst] = dispersion.filter(({ kind }) => kind === 'car');
    expect(Number(worst?.key.slice(4)) % 3).toBe(0);
    expect(worst?.ratio).toBeGreaterThan(1.5);
  });

  it('intervals are called too narrow where the scatter grows from session to session', () => {
    const rows = simulateClass(PLAIN, 8).map((row, i) => ({ ...row, z: 5 + (row.z - 5) * Math.exp(i / 40) }));
    expect(intervalsHold(rows, publishedOf(rows), REFIT).faults).toContain('narrow');
  });

  it('the spread between cars is called too small where a fit has none', () => {
    const rows = simulateClass({ ...PLAIN, sdCar: 0.05 }, 9);
    const { components, covariance } = publishedOf(rows);
    const without = { components: { ...components, car: 0, carLoop: 0 }, covariance };
    expect(intervalsHold(rows, without, REFIT).faults).toContain('carsNarrow');
  });

  it('nothing is said of a class of which too little could be predicted', () => {
    const rows = simulateClass({ ...PLAIN, models: 1, carsEach: 2, sessions: 2 }, 10);
    const { faults, coverage } = intervalsHold(rows, publishedOf(rows), REFIT);
    expect(coverage[2]?.of).toBeLessThan(30);
    expect(faults).toBeNull();
  });
});
