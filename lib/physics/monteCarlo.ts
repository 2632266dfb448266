import { type RandomSource, seededRandom } from '@/lib/numerics/seededRandom';
import type { Correlation, Distribution } from './budget';
import { type CaseInputs, layOutCase } from './caseInputs';
import type { NormalisationCase } from './caseSchema';
import { type DrawnInput, prepareDraw } from './draws';
import { INPUT_MEANINGS, INPUT_NAMES, type InputName, indexOfInput } from './inputs';
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
  /** Larger of the differences of the ends of the two 95 % intervals (JCGM 101:2008, 8.1.3). */
  readonly endpointDifferenceWhPerKm: number;
  /** What it may be: half a unit of the first digit of u (JCGM 101:2008, 7.9.2). */
  readonly endpointToleranceWhPerKm: number;
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

/** The same of several outcomes of one model, all of each draw: as simulated one by one, to the digit. */
export function simulateTogether<Outcome extends string>(
  inputs: readonly DrawnInput[],
  outcomes: readonly Outcome[],
  model: (values: Float64Array) => Readonly<Record<Outcome, number>>,
  options: SimulationOptions,
  correlations: readonly Correlation[] = [],
): Record<Outcome, Simulation> {
  const draw = prepareDraw(inputs, correlations);
  const rest = outcomes.slice(1).map((name) => ({ name, values: new Float64Array(options.draws) }));
  const [first] = outcomes;
  let k = 0;
  const firstValues = drawOutcomes(
    inputs.length,
    draw,
    (values) => {
      const found = model(values);
      for (const one of rest) one.values[k] = found[one.name];
      k += 1;
      return first === undefined ? 0 : found[first];
    },
    options,
  );
  const all = [...(first === undefined ? [] : [{ name: first, values: firstValues }]), ...rest];
  return Object.fromEntries(
    all.map(({ name, values }) => [name, summarise(options.draws, values)]),
  ) as Record<Outcome, Simulation>;
}

/**
 * Monte Carlo of one run's adjustment. Returns null for a run outside the method's reach.
 * Seeded: the same case, seed and number of draws give the same digits.
 */
export function monteCarloRun(input: NormalisationCase, options: SimulationOptions): RunSimulation | null {
  const firstOrder = normaliseRun(input);
  if (firstOrder.outcome === 'outsideReach') return null;
  const laidOut = layOutCase(input);
  const { distributions, dof, profile, densitySource, reference, falls } = laidOut;
  const { x, u } = input.run.windHoldsItsUncertainty === true ? withCentredWind(laidOut) : laidOut;
  const vectorModel = adjustmentModel(profile.source, densitySource, reference, falls);
  const outputs = new Float64Array(OUTPUT_COUNT);
  const model = (values: Float64Array): number => {
    vectorModel(values, outputs);
    return outputs[OUT.normalised] as number;
  };
  const inputs = Array.from(x, (value, i) => ({
    value,
    u: u[i] as number,
    distribution: distributions[i] as Distribution,
    dof: dof[i] as number,
  }));
  const draw = prepareDraw(inputs, correlationsOf(input));
  const simulated = summarise(options.draws, drawOutcomes(x.length, draw, model, options));
  const ratio = firstOrder.uWhPerKm === 0 ? 1 : simulated.u / firstOrder.uWhPerKm;
  const [low, high] = firstOrder.interval95;
  const endpointDifferenceWhPerKm = Math.max(
    Math.abs(low - simulated.interval95[0]),
    Math.abs(high - simulated.interval95[1]),
  );
  const endpointToleranceWhPerKm = numericalTolerance(firstOrder.uWhPerKm);
  const agrees =
    Math.abs(ratio - 1) <= AGREEMENT_TOLERANCE && endpointDifferenceWhPerKm <= endpointToleranceWhPerKm;
  return {
    meanWhPerKm: simulated.mean,
    uWhPerKm: simulated.u,
    interval95: simulated.interval95,
    draws: options.draws,
    seed: options.seed,
    firstOrderUWhPerKm: firstOrder.uWhPerKm,
    ratio,
    endpointDifferenceWhPerKm,
    endpointToleranceWhPerKm,
    agrees,
    nonLinearInput: agrees ? null : mostBent(x, u, model),
  };
}

const WINDS = [indexOfInput('alongWindMps'), indexOfInput('crossWindMps')] as const;

/**
 * An rms r that holds what is not known of a component c ± u, r² = c² + u² with u(r) = √(4c²u² + 2u⁴)/(2r), turned back
 * into the component itself, which is what is drawn: u² = r² − √(r⁴ − 2r²u(r)²), c = √(r² − u²).
 */
function withCentredWind({ x, u }: CaseInputs): Pick<CaseInputs, 'x' | 'u'> {
  const centred = { x: x.slice(), u: u.slice() };
  for (const i of WINDS) {
    const square = (x[i] as number) ** 2;
    const variance = square - Math.sqrt(Math.max(0, square * (square - 2 * (u[i] as number) ** 2)));
    centred.x[i] = Math.sqrt(Math.max(0, square - variance));
    centred.u[i] = Math.sqrt(Math.max(0, variance));
  }
  return centred;
}

/** Half a unit of the one significant digit of u: c·10^l gives ½·10^l (JCGM 101:2008, 7.9.2, with n_dig = 1). */
function numericalTolerance(u: number): number {
  return u > 0 ? 0.5 * 10 ** Math.floor(Math.log10(u)) : Number.EPSILON;
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
