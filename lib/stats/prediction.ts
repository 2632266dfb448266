import { tUpperQuantile } from '@/lib/numerics/distributions';
import type { Variances } from './accumulate';
import { evaluate } from './criterion';
import { cellResiduals, knowPath, predictEffects, sparseQuadratic, weighTree } from './nestedEffects';
import { prepareFor, toScaled } from './problem';
import { layOutRuns, nestedKey, type Observation } from './structure';

/** Where a new run is expected to fall, given the others. */
export interface Prediction {
  mean: number;
  /** Standard deviation of one new run about `mean`, estimation error included. */
  sd: number;
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

/**
 * Predicts a run from others under given components: best linear unbiased prediction
 *   ŷ = x₀'β + c'V⁻¹(z − Xβ),  var = v₀ − c'V⁻¹c + (x₀ − X'V⁻¹c)' M⁻¹ (x₀ − X'V⁻¹c)
 * with c the covariance of the new run with the old. Goldberger A. S. (1962), JASA 57, 369; Harville D. A. (1976),
 * Annals of Statistics 4, 384. Null when the setup has no other run.
 *
 * @param others runs of the group without the one to be judged
 * @param df degrees of freedom for the interval, as those of the components' residual
 */
export function predictRun(
  others: readonly Observation[],
  components: Variances,
  run: NewRun,
  df: number,
  level = 0.95,
): Prediction | null {
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
  const half = tUpperQuantile((1 - level) / 2, df) * sd;
  return {
    mean,
    sd,
    interval: [mean - half, mean + half],
    knowsCar: carAt !== null,
    knowsLoop: loopAt !== null,
    knowsSession: sessionAt !== null,
  };
}
