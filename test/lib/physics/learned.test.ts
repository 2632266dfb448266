import { describe, expect, it } from 'vitest';
import { seededRandom } from '@/lib/numerics/seededRandom';
import { consumptionBand } from '@/lib/physics/consumptionBand';
import {
  conjugateRegression,
  type LearningRun,
  learnRoadLoad,
  priorBelief,
  regressorsOf,
} from '@/lib/physics/learned';

const identity = (n: number, value: number) =>
  Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => (i === j ? value : 0)));

describe('conjugate regression', () => {
  it('with a flat prior is NIST StRD NoInt1: slope 2.07438016528926, s.d. 0.0165289256198347 at residual s.d. 3.56753034006338', () => {
    const rows = Array.from({ length: 11 }, (_, i) => [60 + i]);
    const y = rows.map((_, i) => 130 + i);
    const { posterior } = conjugateRegression(
      rows,
      y,
      identity(11, 3.56753034006338 ** 2),
      {
        mean: [0],
        covariance: [[1e4]],
      },
      y.map(String),
    );
    // a prior s.d. of 100 pulls by (0.0165/100)², 3e-8 relative
    expect(posterior.mean[0]).toBeCloseTo(2.07438016528926, 6);
    expect(Math.sqrt(posterior.covariance[0]?.[0] ?? 0)).toBeCloseTo(0.0165289256198347, 7);
  });

  it('of one normal mean is the textbook precision-weighted one (Gelman et al., Bayesian Data Analysis, 2.11–2.12)', () => {
    const y = [10, 12, 11];
    const { posterior } = conjugateRegression(
      y.map(() => [1]),
      y,
      identity(3, 4),
      { mean: [8], covariance: [[2]] },
      y.map(String),
    );
    // precisions 1/2 and 3/4
    expect(posterior.mean[0]).toBeCloseTo((8 / 2 + 11 * (3 / 4)) / (1 / 2 + 3 / 4), 12);
    expect(posterior.covariance[0]?.[0]).toBeCloseTo(1 / (1 / 2 + 3 / 4), 12);
  });

  it('has the score of leaving out whole cars and fitting again', () => {
    const rows = [
      [1, 0.2],
      [1.1, 0.5],
      [0.9, 0.9],
      [1.3, 0.1],
      [1, 0.7],
    ];
    const y = [3.1, 3.9, 4.2, 3.6, 4.0];
    const cars = ['a', 'a', 'b', 'b', 'c'];
    // two correlated pairs, as of one car
    const noise = identity(5, 0.05).map((row, i) =>
      row.map((value, j) => value + (Math.floor(i / 2) === Math.floor(j / 2) ? 0.02 : 0)),
    );
    const prior = {
      mean: [2, 1],
      covariance: [
        [1, 0.3],
        [0.3, 2],
      ],
    };
    const whole = conjugateRegression(rows, y, noise, prior, cars);
    // brute force: ln p(y) − ln p(y without i), each from the chain of one-at-a-time predictions
    const logEvidence = (keep: number[]): number => {
      let total = 0;
      keep.forEach((_, k) => {
        const past = keep.slice(0, k);
        const now = keep[k] as number;
        const known = past.concat(now);
        const all = conjugateRegression(
          known.map((i) => rows[i] as number[]),
          known.map((i) => y[i] as number),
          known.map((i) => known.map((j) => noise[i]?.[j] ?? 0)),
          prior,
          known.map((i) => cars[i] as string),
        );
        // the last of `known` predicted from the others is its conditional density
        total += lastConditional(all, known);
      });
      return total;
    };
    const lastConditional = (_: unknown, known: number[]): number => {
      const n = known.length;
      const marginal = known.map((i) =>
        known.map((j) => {
          const a = rows[i] as number[];
          const b = rows[j] as number[];
          let sum = noise[i]?.[j] ?? 0;
          for (let p = 0; p < 2; p++) {
            for (let q = 0; q < 2; q++) sum += (a[p] ?? 0) * (prior.covariance[p]?.[q] ?? 0) * (b[q] ?? 0);
          }
          return sum;
        }),
      );
      const deviations = known.map((i) => (y[i] ?? 0) - 2 * (rows[i]?.[0] ?? 0) - (rows[i]?.[1] ?? 0));
      // Gaussian elimination of the first n − 1 leaves the Schur complement and the conditional deviation
      const work = marginal.map((row, i) => [...row, deviations[i] ?? 0]);
      for (let k = 0; k < n - 1; k++) {
        for (let i = k + 1; i < n; i++) {
          const factor = (work[i]?.[k] ?? 0) / (work[k]?.[k] ?? 1);
          for (let j = k; j <= n; j++)
            (work[i] as number[])[j] = (work[i]?.[j] ?? 0) - factor * (work[k]?.[j] ?? 0);
        }
      }
      const variance = work[n - 1]?.[n - 1] ?? 0;
      const deviation = work[n - 1]?.[n] ?? 0;
      return -0.5 * (Math.log(2 * Math.PI * variance) + deviation ** 2 / variance);
    };
    const everything = [0, 1, 2, 3, 4];
    const full = logEvidence(everything);
    // a car's runs given all others: the joint of everything over that of the others; and their joint alone
    const expected = ['a', 'b', 'c'].map((car) => ({
      leftOut: full - logEvidence(everything.filter((i) => cars[i] !== car)),
      alone: logEvidence(everything.filter((i) => cars[i] === car)),
    }));
    expect(whole.leftOutCarsLogScore).toBeCloseTo(
      expected.reduce((sum, { leftOut }) => sum + leftOut, 0),
      9,
    );
    expect(whole.priorLogScore).toBeCloseTo(
      expected.reduce((sum, { alone }) => sum + alone, 0),
      9,
    );
    expect(whole.cars).toBe(3);
  });
});

/** Runs of cars whose truth is known: CdA/η 0.75, Crr/η 0.0118, 900 W. */
function madeRuns(seed: number, count: number, carSpread: number): LearningRun[] {
  const random = seededRandom(seed);
  const cars = new Map<string, number>();
  return Array.from({ length: count }, (_, i) => {
    const carId = `car ${i % 4}`;
    if (!cars.has(carId)) cars.set(carId, carSpread * random.nextNormal());
    const speed = 22 + 14 * random.nextUniform();
    const regressors = regressorsOf({
      airDensityKgM3: 1.1 + 0.2 * random.nextUniform(),
      meanSquareSpeedM2S2: speed * speed,
      alongWindMps: 2,
      crossWindMps: 1,
      yawDragPerRad2: 3,
      massKg: 2000,
      airTemperatureC: 30 * random.nextUniform(),
      durationS: 1,
      distanceM: speed,
    });
    const truth =
      0.75 * regressors.aeroRegressor + 0.0118 * regressors.rollingRegressor + 900 * regressors.timeRegressor;
    return {
      ...regressors,
      carId,
      uWhPerKm: 1,
      gradeWhPerKm: 2,
      consumptionWhPerKm: truth + 2 + (cars.get(carId) ?? 0) + 1.4 * random.nextNormal(),
    };
  });
}

const spread = { carWhPerKm: 2, carDragShare: 0, runWhPerKm: 1 };

describe('learned road load', () => {
  it('moves from the priors to the truth, narrower, and beats them out of sample', () => {
    const prior = priorBelief('hatch', 'road');
    const learned = learnRoadLoad(madeRuns(3, 80, 2), prior, spread);
    const truth = [0.75, 0.0118, 900];
    truth.forEach((value, k) => {
      const u = Math.sqrt(learned.posterior.covariance[k]?.[k] ?? 0);
      expect(u).toBeLessThan(Math.sqrt(prior.covariance[k]?.[k] ?? 0));
      expect(Math.abs((learned.posterior.mean[k] ?? 0) - value)).toBeLessThan(3 * u);
    });
    expect(learned).toMatchObject({ runs: 80, cars: 4, beatsPriors: true });
  });

  it('gains nothing from what the runs of a car share, where there is nothing to learn, nor from one car', () => {
    // priors known to a ten-thousandth and true: single runs would be predicted far better from their own car's others
    const known = {
      mean: [0.75, 0.0118, 900],
      covariance: identity(3, 0).map((row, i) =>
        row.map((_, j) => (i === j ? ([1e-9, 1e-13, 1e-3][i] ?? 0) : 0)),
      ),
    };
    const wide = { carWhPerKm: 4, carDragShare: 0, runWhPerKm: 1 };
    for (let seed = 1; seed <= 20; seed++) {
      const learned = learnRoadLoad(madeRuns(seed, 40, 4), known, wide);
      expect(Math.abs(learned.leftOutCarsLogScore - learned.priorLogScore)).toBeLessThan(0.01);
    }
    const oneCar = madeRuns(3, 80, 2).filter((run) => run.carId === 'car 0');
    expect(learnRoadLoad(oneCar, priorBelief('hatch', 'road'), spread).beatsPriors).toBe(false);
  });

  it('covers the truth at its stated rate over repeated data (95 % within 3 binomial standard errors)', () => {
    // priors wide about the truth, so that coverage is that of the likelihood
    const prior = {
      mean: [0.75, 0.0118, 900],
      covariance: [
        [0.05, 0, 0],
        [0, 1e-5, 0],
        [0, 0, 1e6],
      ],
    };
    let covered = 0;
    const repeats = 200;
    for (let seed = 1; seed <= repeats; seed++) {
      const { posterior } = learnRoadLoad(madeRuns(seed, 24, 2), prior, spread);
      const u = Math.sqrt(posterior.covariance[0]?.[0] ?? 0);
      if (Math.abs((posterior.mean[0] ?? 0) - 0.75) < 1.96 * u) covered++;
    }
    expect(covered / repeats).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.95 * 0.05) / repeats));
  });

  it('equals the prior without runs', () => {
    const prior = priorBelief('van', 'allTerrain');
    const { posterior, beatsPriors } = learnRoadLoad([], prior, spread);
    expect(posterior.mean).toEqual(prior.mean);
    expect(posterior.covariance).toEqual(prior.covariance);
    expect(beatsPriors).toBe(false);
  });
});

describe('consumption against speed', () => {
  it('at 110 km/h in reference air is that of the independent case N1, 161.81 Wh/km', () => {
    const belief = { mean: [0.6 / 0.9, 0.009 / 0.9, 500], covariance: identity(3, 0) };
    const [point] = consumptionBand(
      belief,
      { carWhPerKm: 0, runWhPerKm: 0 },
      { airDensityKgM3: 1.189, airTemperatureC: 20, massKg: 2000 },
      [110 / 3.6],
    );
    expect(point?.consumptionWhPerKm).toBeCloseTo(161.81390904934113, 9);
    expect(point?.uPredictionWhPerKm).toBe(0);
  });

  it('has a prediction band wider than that of the mean', () => {
    const band = consumptionBand(
      priorBelief('saloon', 'road'),
      spread,
      { airDensityKgM3: 1.2, airTemperatureC: 10, massKg: 1900 },
      [20, 25, 30, 35],
    );
    expect(band).toHaveLength(4);
    for (const point of band) expect(point.uPredictionWhPerKm).toBeGreaterThan(point.uMeanWhPerKm);
    expect(band[3]?.consumptionWhPerKm).toBeGreaterThan(
      band[0]?.consumptionWhPerKm ?? Number.POSITIVE_INFINITY,
    );
  });
});
