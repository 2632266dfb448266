import { type RandomSource, seededRandom } from '@/lib/numerics/seededRandom';
import type { Correlation, Distribution } from './budget';
import { layOutCase } from './caseInputs';
import type { NormalisationCase } from './caseSchema';
import { INPUT_MEANINGS, INPUT_NAMES, type InputName } from './inputs';
import { correlationsOf, normaliseRun } from './normalise';
import { adjustmentModel, OUT, OUTPUT_COUNT } from './roadLoad';

/**
 * Propagation of distributions by Monte Carlo (JCGM 101:2008, clause 7), on the model and inputs of the first-order
 * budget, and the comparison of the two (in the spirit of its clause 8).
 */
export interface Simulation {
  readonly mean: number;
  readonly u: number;
  /** Probabilistically symmetric 95 % interval. */
  readonly interval95: readonly [number, number];
  readonly draws: number;
}

export interface DrawnInput {
  readonly value: number;
  readonly u: number;
  readonly distribution: Distribution;
}

export interface SimulationOptions {
  readonly seed: number;
  readonly draws: number;
}

export interface RunSimulation {
  readonly meanWhPerKm: number;
  readonly uWhPerKm: number;
  readonly interval95: readonly [number, number];
  readonly draws: number;
  readonly seed: number;
  readonly firstOrderUWhPerKm: number;
  /** Simulated over first-order standard uncertainty. */
  readonly ratio: number;
  readonly agrees: boolean;
  /** The input that bends the model most, alone or with another, named when the two do not agree. */
  readonly nonLinearInput: {
    readonly input: InputName;
    readonly label: string;
    readonly bendWhPerKm: number;
  } | null;
}

/** First-order and simulated standard uncertainty may differ by this share. */
export const AGREEMENT_TOLERANCE = 0.05;

/** Monte Carlo of any model of a few inputs; correlated inputs are drawn from a joint normal. */
export function simulate(
  inputs: readonly DrawnInput[],
  model: (values: Float64Array) => number,
  options: SimulationOptions,
  correlations: readonly Correlation[] = [],
): Simulation {
  const draw = prepareDraw(inputs, correlations);
  return summarise(options.draws, drawOutcomes(inputs.length, draw, model, options));
}

/**
 * Monte Carlo of one run's adjustment. Returns null for a run outside the method's reach.
 * Seeded: the same case, seed and number of draws give the same digits.
 */
export function monteCarloRun(input: NormalisationCase, options: SimulationOptions): RunSimulation | null {
  const firstOrder = normaliseRun(input);
  if (firstOrder.outcome === 'outsideReach') return null;
  const { x, u, distributions, profile, densitySource, reference } = layOutCase(input);
  const vectorModel = adjustmentModel(profile.source, densitySource, reference);
  const outputs = new Float64Array(OUTPUT_COUNT);
  const model = (values: Float64Array): number => {
    vectorModel(values, outputs);
    return outputs[OUT.normalised] as number;
  };
  const inputs = Array.from(x, (value, i) => ({
    value,
    u: u[i] as number,
    distribution: distributions[i] as Distribution,
  }));
  const draw = prepareDraw(inputs, correlationsOf(input));
  const simulated = summarise(options.draws, drawOutcomes(x.length, draw, model, options));
  const ratio = firstOrder.uWhPerKm === 0 ? 1 : simulated.u / firstOrder.uWhPerKm;
  const agrees = Math.abs(ratio - 1) <= AGREEMENT_TOLERANCE;
  return {
    meanWhPerKm: simulated.mean,
    uWhPerKm: simulated.u,
    interval95: simulated.interval95,
    draws: options.draws,
    seed: options.seed,
    firstOrderUWhPerKm: firstOrder.uWhPerKm,
    ratio,
    agrees,
    nonLinearInput: agrees ? null : mostBent(x, u, model),
  };
}

function drawOutcomes(
  count: number,
  draw: (random: RandomSource, into: Float64Array) => void,
  model: (values: Float64Array) => number,
  { seed, draws }: SimulationOptions,
): Float64Array {
  const random = seededRandom(seed);
  const values = new Float64Array(count);
  const outcomes = new Float64Array(draws);
  for (let k = 0; k < draws; k++) {
    draw(random, values);
    outcomes[k] = model(values);
  }
  return outcomes;
}

function summarise(draws: number, outcomes: Float64Array): Simulation {
  let sum = 0;
  for (const outcome of outcomes) sum += outcome;
  const mean = sum / draws;
  let square = 0;
  for (const outcome of outcomes) square += (outcome - mean) ** 2;
  outcomes.sort();
  // JCGM 101:2008, 7.7.2: q = pM draws inside, r = (M − q)/2 below
  const inside = Math.round(0.95 * draws);
  const below = Math.round((draws - inside) / 2);
  return {
    mean,
    u: Math.sqrt(square / (draws - 1)),
    interval95: [outcomes[below] as number, outcomes[Math.min(draws - 1, below + inside)] as number],
    draws,
  };
}

/** Compiles the inputs into a function that fills a vector with one joint draw. */
function prepareDraw(
  inputs: readonly DrawnInput[],
  correlations: readonly Correlation[],
): (random: RandomSource, into: Float64Array) => void {
  const correlated = [...new Set(correlations.flatMap(({ a, b }) => [a, b]))];
  const root = correlationRoot(correlated, correlations);
  const jointly = new Set(correlated);
  const values = Float64Array.from(inputs, (input) => input.value);
  const u = Float64Array.from(inputs, (input) => input.u);
  const alone: number[] = [];
  const kinds = inputs.map((input) => input.distribution);
  inputs.forEach((input, i) => {
    if (input.u > 0 && !jointly.has(i)) alone.push(i);
  });
  const halfRectangle = Math.sqrt(3);
  const halfTriangle = Math.sqrt(6);
  return (random, into) => {
    into.set(values);
    for (const i of alone) {
      const kind = kinds[i];
      const deviate =
        kind === 'normal'
          ? random.nextNormal()
          : kind === 'rectangular'
            ? halfRectangle * (2 * random.nextUniform() - 1)
            : halfTriangle * (random.nextUniform() + random.nextUniform() - 1);
      into[i] = (values[i] as number) + (u[i] as number) * deviate;
    }
    if (correlated.length === 0) return;
    const independent = correlated.map(() => random.nextNormal());
    correlated.forEach((index, row) => {
      let deviate = 0;
      for (let column = 0; column <= row; column++) {
        deviate += (root[row]?.[column] ?? 0) * (independent[column] as number);
      }
      into[index] = (values[index] as number) + (u[index] as number) * deviate;
    });
  };
}

/** Lower Cholesky factor of the correlation matrix of the given inputs. */
function correlationRoot(indices: readonly number[], correlations: readonly Correlation[]): number[][] {
  const coefficient = (i: number, j: number): number => {
    if (i === j) return 1;
    const found = correlations.find(({ a, b }) => (a === i && b === j) || (a === j && b === i));
    return found?.coefficient ?? 0;
  };
  const root: number[][] = [];
  indices.forEach((input, i) => {
    const row: number[] = [];
    for (let j = 0; j <= i; j++) {
      const other = i === j ? row : (root[j] as number[]);
      let sum = coefficient(input, indices[j] as number);
      for (let k = 0; k < j; k++) sum -= (row[k] as number) * (other[k] as number);
      if (i === j) {
        if (sum < -1e-12) throw new RangeError('the stated correlations cannot hold together');
        row.push(Math.sqrt(Math.max(0, sum)));
      } else {
        const pivot = other[j] as number;
        row.push(pivot === 0 ? 0 : sum / pivot);
      }
    }
    root.push(row);
  });
  return root;
}

/**
 * The input with the largest part in the second-order variance, ½·Σ_j (f_ij·u_i·u_j)² (JCGM 100:2008, 5.1.2 note), by
 * finite differences over ± u, products of two inputs included.
 */
function mostBent(
  x: Float64Array,
  u: Float64Array,
  model: (values: Float64Array) => number,
): RunSimulation['nonLinearInput'] {
  const values = x.slice();
  const active = Array.from(x.keys()).filter((i) => (u[i] as number) > 0);
  const at = (i: number, stepsI: number, j = i, stepsJ = 0): number => {
    values[i] = (x[i] as number) + stepsI * (u[i] as number);
    if (stepsJ !== 0) values[j] = (x[j] as number) + stepsJ * (u[j] as number);
    const result = model(values);
    values[i] = x[i] as number;
    values[j] = x[j] as number;
    return result;
  };
  const centre = model(values);
  const bends = new Float64Array(x.length);
  const add = (i: number, second: number) => {
    bends[i] = (bends[i] as number) + (second * second) / 2;
  };
  active.forEach((i, position) => {
    add(i, at(i, 1) + at(i, -1) - 2 * centre);
    for (const j of active.slice(position + 1)) {
      const mixed = (at(i, 1, j, 1) - at(i, 1, j, -1) - at(i, -1, j, 1) + at(i, -1, j, -1)) / 4;
      add(i, mixed);
      add(j, mixed);
    }
  });
  const worst = active.reduce((a, b) => ((bends[b] as number) > (bends[a] as number) ? b : a));
  const input = INPUT_NAMES[worst] as InputName;
  return { input, label: INPUT_MEANINGS[input].label, bendWhPerKm: Math.sqrt(bends[worst] as number) };
}
