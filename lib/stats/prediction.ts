import { tUpperQuantile } from '@/lib/numerics/distributions';
import { COMPONENT_COUNT, COMPONENTS, type Variances } from './accumulate';
import { evaluate } from './criterion';
import { ENOUGH_DF } from './estimates';
import { knowPath, predictEffects, weighTree } from './nestedEffects';
import { prepareFor, toScaled } from './problem';
import { satterthwaiteDf } from './satterthwaite';
import { layOutRuns, nestedKey, type Observation } from './structure';

/** What a model's runs say of its setups at given components; in original units. */
export interface FixedEffects {
  /** Sorted; the order of the numbers below. */
  setups: string[];
  beta: number[];
  /** M⁻¹, m × m. */
  covariance: number[][];
  runs: number;
  /** z'Pz: weighted squares of what the setups leave over. It has no unit. */
  quadratic: number;
}

/** Generalised least squares of the setups' effects, β = M⁻¹X'V⁻¹z with M = X'V⁻¹X. */
export function fixedEffects(runs: readonly Observation[], components: Variances): FixedEffects {
  const structure = layOutRuns(runs);
  const problem = prepareFor(structure, components);
  const at = evaluate(problem, toScaled(problem, components), true);
  const square = problem.scale ** 2;
  const m = structure.setups.length;
  return {
    setups: structure.setups,
    beta: structure.setups.map(
      (_, k) => problem.base + (problem.offset[k] as number) + problem.scale * (at.coefficients[k] as number),
    ),
    covariance: Array.from({ length: m }, (_, i) =>
      Array.from(at.covariance.subarray(i * m, (i + 1) * m), (value) => square * value),
    ),
    runs: structure.runs,
    quadratic: at.residualQuadratic,
  };
}

/** Where a new run is expected to fall, given the others. */
export interface Prediction {
  mean: number;
  /** Standard deviation of one new run about `mean`, estimation error included. */
  sd: number;
  /** Null on fewer degrees of freedom than an interval is claimed from. */
  interval: [number, number] | null;
  /** What the prediction could lean on. */
  knowsCar: boolean;
  knowsLoop: boolean;
  knowsSession: boolean;
}

export interface NewRun {
  setup: string;
  car: string;
  loop?: string;
  session: string;
  u: number;
}

/**
 * Predicts a run from others under given components: best linear unbiased prediction
 *   ŷ = x₀'β + c'V⁻¹(z − Xβ),  var = v₀ − c'V⁻¹c + (x₀ − X'V⁻¹c)' M⁻¹ (x₀ − X'V⁻¹c)
 * with c the covariance of the new run with the old. Goldberger A. S. (1962), JASA 57, 369; Harville D. A. (1976),
 * Annals of Statistics 4, 384. c is 0 but for the runs of the same car, so that beyond the setups' effects these alone
 * are needed. Null when the setup has no other run.
 *
 * @param known of all runs of the group, or of the model, without the one to be judged
 * @param ofCar those of them that the same car drove, all setups
 * @param covariance of the components, 4 × 4 in their order
 */
export function predictRun(
  known: FixedEffects,
  ofCar: readonly Observation[],
  components: Variances,
  covariance: readonly (readonly number[])[],
  run: NewRun,
  level = 0.95,
): Prediction | null {
  const setup = known.setups.indexOf(run.setup);
  if (setup === -1) return null;
  const direction = new Map([[setup, 1]]);
  const path = ofCar.length === 0 ? NOTHING_KNOWN : knowCar(known, ofCar, components, run);
  for (const [k, share] of path.toward) direction.set(k, (direction.get(k) ?? 0) - share);
  // What nothing is known of counts in full: an unknown car, an unknown loop of it, an unknown day.
  let variance = components.residual + run.u ** 2 + path.variance;
  if (!path.knowsSession) variance += components.session;
  if (!path.knowsLoop) variance += components.carLoop;
  if (!path.knowsCar) variance += components.car;
  for (const [i, a] of direction)
    for (const [j, b] of direction) variance += a * b * (known.covariance[i]?.[j] as number);
  const mean = (known.beta[setup] as number) + path.pull;
  const sd = Math.sqrt(Math.max(0, variance));
  const { knowsCar, knowsLoop, knowsSession } = path;
  const df = predictionDf(components, covariance, path, run.u);
  return { mean, sd, interval: intervalAbout(mean, sd, df, level), knowsCar, knowsLoop, knowsSession };
}

/**
 * Satterthwaite's degrees of freedom of what varies about a new run: the residual, and the components of which nothing
 * is known of it. In a young class these are partly assumed and have the degrees of freedom of what is assumed, where
 * those of the residual alone would be one or two. What is known of the run's car or day is left out.
 *
 * @param covariance of the components, 4 × 4 in their order
 */
export function predictionDf(
  components: Variances,
  covariance: readonly (readonly number[])[],
  { knowsCar, knowsLoop, knowsSession }: { knowsCar: boolean; knowsLoop: boolean; knowsSession: boolean },
  u: number,
): number {
  const counted = { car: !knowsCar, carLoop: !knowsLoop, session: !knowsSession, residual: true };
  const gradient = COMPONENTS.map((name) => Number(counted[name]));
  const variance = COMPONENTS.reduce(
    (sum, name, j) => sum + (gradient[j] as number) * components[name],
    u ** 2,
  );
  const flat = Float64Array.from(
    { length: COMPONENT_COUNT ** 2 },
    (_, i) => covariance[Math.floor(i / COMPONENT_COUNT)]?.[i % COMPONENT_COUNT] ?? 0,
  );
  return Math.min(1e9, satterthwaiteDf(variance, gradient, flat));
}

/** Where one new value is expected to fall, by Student's t; null on fewer degrees of freedom than are claimed from. */
export function intervalAbout(mean: number, sd: number, df: number, level = 0.95): [number, number] | null {
  if (df < ENOUGH_DF) return null;
  const half = tUpperQuantile((1 - level) / 2, df) * sd;
  return [mean - half, mean + half];
}

const NOTHING_KNOWN = {
  pull: 0,
  variance: 0,
  toward: new Map<number, number>(),
  knowsCar: false,
  knowsLoop: false,
  knowsSession: false,
};

/** What the car's runs say of its effects along the new run's path. */
function knowCar(
  known: FixedEffects,
  ofCar: readonly Observation[],
  components: Variances,
  run: NewRun,
): typeof NOTHING_KNOWN {
  const structure = layOutRuns(ofCar);
  const problem = prepareFor(structure, components);
  const tree = weighTree(problem, toScaled(problem, components));
  const at = structure.setups.map((setup) => known.setups.indexOf(setup));
  // A setup that the effects know nothing of would be measured against itself: such a car tells nothing.
  const car = at.includes(-1) ? undefined : structure.carIndex.get(run.car);
  if (car === undefined) return NOTHING_KNOWN;
  const residuals = Float64Array.from(structure.mean, (mean, cell) => {
    const beta = known.beta[at[structure.cellSetup[cell] as number] as number] as number;
    return (structure.origin - beta + mean) / problem.scale;
  });
  const loop = structure.loopIndex.get(nestedKey(run.car, run.loop ?? '')) ?? null;
  const session = structure.sessionIndex.get(nestedKey(run.car, run.loop ?? '', run.session)) ?? null;
  const effects = predictEffects(tree, residuals);
  let pull = effects.car[car] as number;
  if (loop !== null) pull += effects.loop[loop] as number;
  if (session !== null) pull += effects.session[session] as number;
  const path = knowPath(tree, { car, loop, session });
  return {
    pull: problem.scale * pull,
    variance: problem.scale ** 2 * path.variance,
    toward: new Map([...path.toward].map(([k, share]) => [at[k] as number, share])),
    knowsCar: true,
    knowsLoop: loop !== null,
    knowsSession: session !== null,
  };
}
