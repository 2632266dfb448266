import { tUpperQuantile } from '@/lib/numerics/distributions';
import { COMPONENT_COUNT, COMPONENTS, type Variances } from './accumulate';
import { evaluate } from './criterion';
import { ENOUGH_DF } from './estimates';
import { cellResiduals, knowPath, predictEffects, sparseQuadratic, weighTree } from './nestedEffects';
import { prepareFor, toScaled } from './problem';
import { satterthwaiteDf } from './satterthwaite';
import { layOutRuns, nestedKey, type Observation } from './structure';

/** Where a new run is expected to fall, given the others. */
export interface Prediction {
  mean: number;
  /** Standard deviation of one new run about `mean`, estimation error included. */
  sd: number;
  df: number;
  interval: [number, number];
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

/** Steps of the numerical derivatives in the variances, relative; of a component of 0, to all of them together. */
const STEP = 1e-3;

/**
 * Predicts a run from others under components that a fit found, with Satterthwaite's degrees of freedom for its
 * variance: a young class, whose components are partly assumed, has those of what is assumed. Null when the setup has
 * no other run, or on fewer degrees of freedom than an interval is claimed from.
 *
 * @param others runs of the group without the one to be judged
 * @param covariance of the components, 4 × 4 in their order
 */
export function predictRun(
  others: readonly Observation[],
  components: Variances,
  covariance: readonly (readonly number[])[],
  run: NewRun,
  level = 0.95,
): Prediction | null {
  const found = predictAt(others, components, run);
  if (found === null) return null;
  const whole = COMPONENTS.reduce((sum, name) => sum + components[name], 0);
  const gradient = COMPONENTS.map((name) => {
    const step = STEP * (components[name] > 0 ? components[name] : whole);
    const moved = predictAt(others, { ...components, [name]: components[name] + step }, run);
    return step > 0 && moved !== null ? (moved.sd ** 2 - found.sd ** 2) / step : 0;
  });
  const flat = Float64Array.from(
    { length: COMPONENT_COUNT ** 2 },
    (_, i) => covariance[Math.floor(i / COMPONENT_COUNT)]?.[i % COMPONENT_COUNT] ?? 0,
  );
  const df = Math.min(1e9, satterthwaiteDf(found.sd ** 2, gradient, flat));
  if (df < ENOUGH_DF) return null;
  const half = tUpperQuantile((1 - level) / 2, df) * found.sd;
  return { ...found, df, interval: [found.mean - half, found.mean + half] };
}

/**
 * Best linear unbiased prediction under given components
 *   ŷ = x₀'β + c'V⁻¹(z − Xβ),  var = v₀ − c'V⁻¹c + (x₀ − X'V⁻¹c)' M⁻¹ (x₀ − X'V⁻¹c)
 * with c the covariance of the new run with the old. Goldberger A. S. (1962), JASA 57, 369; Harville D. A. (1976),
 * Annals of Statistics 4, 384.
 */
function predictAt(
  others: readonly Observation[],
  components: Variances,
  run: NewRun,
): Omit<Prediction, 'df' | 'interval'> | null {
  const structure = layOutRuns(others);
  const setup = structure.setups.indexOf(run.setup);
  if (setup === -1) return null;
  const problem = prepareFor(structure, components);
  const square = problem.scale ** 2;
  const v = toScaled(problem, components);
  const at = evaluate(problem, v, true);
  const [car, loop] = [run.car, run.loop ?? ''];
  const carAt = structure.carIndex.get(car) ?? null;
  const loopAt = structure.loopIndex.get(nestedKey(car, loop)) ?? null;
  const sessionAt = structure.sessionIndex.get(nestedKey(car, loop, run.session)) ?? null;
  const tree = weighTree(problem, v);
  const direction = new Map([[setup, 1]]);
  let pull = 0;
  // What nothing is known of counts in full: an unknown car, an unknown loop of it, an unknown day.
  let variance = v.residual + run.u ** 2 / square;
  if (sessionAt === null) variance += v.session;
  if (loopAt === null) variance += v.carLoop;
  if (carAt === null) variance += v.car;
  else {
    const known = knowPath(tree, { car: carAt, loop: loopAt, session: sessionAt });
    const effects = predictEffects(tree, cellResiduals(problem, at));
    pull = effects.car[carAt] as number;
    if (loopAt !== null) pull += effects.loop[loopAt] as number;
    if (sessionAt !== null) pull += effects.session[sessionAt] as number;
    variance += known.variance;
    for (const [k, share] of known.toward) direction.set(k, (direction.get(k) ?? 0) - share);
  }
  variance += sparseQuadratic(problem, at, direction);
  const fitted = problem.base + (problem.offset[setup] as number);
  const mean = fitted + problem.scale * ((at.coefficients[setup] as number) + pull);
  const sd = problem.scale * Math.sqrt(Math.max(0, variance));
  return {
    mean,
    sd,
    knowsCar: carAt !== null,
    knowsLoop: loopAt !== null,
    knowsSession: sessionAt !== null,
  };
}
