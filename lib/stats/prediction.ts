import { tUpperQuantile } from '@/lib/numerics/distributions';
import type { Variances } from './accumulate';
import { type CarSummary, type SessionSummary, sparseQuadratic, summariseCars } from './carSummaries';
import { evaluate } from './criterion';
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
  knowsSession: boolean;
}

export interface NewRun {
  setup: string;
  car: string;
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
  const carAt = structure.carIndex.get(run.car);
  const sessionAt = structure.sessionIndex.get(nestedKey(run.car, run.session));
  const car = carAt === undefined ? null : (summariseCars(problem, at)[carAt] as CarSummary);
  const session = car?.sessions.find((s) => s.index === sessionAt) ?? null;
  const { pull, gain, toward } = borrow(v, car, session);
  const direction = new Map(toward);
  for (const [k, value] of toward) direction.set(k, -value);
  direction.set(setup, (direction.get(setup) ?? 0) + 1);
  const variance =
    v.car + v.session + v.residual + run.u ** 2 / square - gain + sparseQuadratic(problem, at, direction);
  const mean =
    (problem.offset[setup] as number) + problem.scale * ((at.coefficients[setup] as number) + pull);
  const sd = problem.scale * Math.sqrt(Math.max(0, variance));
  const half = tUpperQuantile((1 - level) / 2, df) * sd;
  return {
    mean,
    sd,
    interval: [mean - half, mean + half],
    knowsCar: car !== null,
    knowsSession: session !== null,
  };
}

/** c'V⁻¹e, c'V⁻¹c and X'V⁻¹c for c = v_T 1_car + v_S 1_session. */
function borrow(
  v: Variances,
  car: CarSummary | null,
  session: SessionSummary | null,
): { pull: number; gain: number; toward: Map<number, number> } {
  const toward = new Map<number, number>();
  if (car === null) return { pull: 0, gain: 0, toward };
  for (const [k, value] of car.C) toward.set(k, (v.car * value) / car.F);
  let pull = (v.car * car.R) / car.F;
  let gain = (v.car ** 2 * car.A) / car.F;
  if (session !== null) {
    const { alpha, f, r, c } = session;
    pull += v.session * (r / f - car.h * alpha * car.R);
    gain += (2 * v.car * v.session * alpha) / car.F + v.session ** 2 * (alpha - car.h * alpha * alpha);
    for (const [k, value] of car.C) {
      toward.set(k, (toward.get(k) ?? 0) - v.session * car.h * alpha * value);
    }
    for (const [k, value] of c) toward.set(k, (toward.get(k) ?? 0) + (v.session * value) / f);
  }
  return { pull, gain, toward };
}
