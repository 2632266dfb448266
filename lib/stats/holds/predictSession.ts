import { factor } from '@/lib/numerics/cholesky';
import { COMPONENT_COUNT, COMPONENTS, type Variances } from '../accumulate';
import type { CarPart } from '../carParts';
import type { SolvedGroup } from '../heldEquations';
import { knowPath, predictEffects, weighTree } from '../nestedEffects';
import { satterthwaiteDf } from '../satterthwaite';
import { nestedKey, type Observation } from '../structure';

/** What stood before the session: components, and the answer of the setups that its car is joined with. */
export interface Before {
  v: Variances;
  /** Covariance of the components, 4 × 4 flat, original units. */
  componentCovariance: Float64Array;
  base: number;
  answer: SolvedGroup;
  /** The car's earlier runs, where it has any. */
  car: CarPart | undefined;
}

/** One run against what stood before its session, whitened by the runs of the session that come before it. */
export interface Innovation {
  /** Standard normal but for the estimation of the components; t with `df` where these are estimated. */
  value: number;
  df: number;
}

/**
 * Predicts the runs B of one new session and whitens their residuals by the Cholesky factor of their covariance:
 *   residual (P_BB)⁻¹(Pz)_B,  covariance (P_BB)⁻¹ = V_BB·A + D M⁻¹ D',
 * written as the best linear prediction from the runs A before it, so that no matrix is larger than the session
 * (Goldberger A. S., 1962, JASA 57, 369; Harville D. A., 1976, Ann. Statist. 4, 384). The first innovation holds the
 * day and the car, those after it what differs within the session.
 *
 * Degrees of freedom by Satterthwaite on each conditional variance as a function of the components, without the
 * part from the setups' estimates, which is a sum of the same components and takes the same share of their error.
 *
 * @param runs of one car, loop and session, each of a setup that `before.answer` holds, in their order
 */
export function predictSession(runs: readonly Observation[], before: Before): Innovation[] {
  const n = runs.length;
  const [first] = runs;
  if (first === undefined) return [];
  const { answer, v, base } = before;
  const places = new Map(answer.setups.map((setup, k) => [setup, k]));
  const known = pathOf(before.car, first.loop ?? '', answer, places, v);
  const rows = runs.map((run) => {
    const direction = new Map(known.toward);
    const k = places.get(run.setup) as number;
    direction.set(k, (direction.get(k) ?? 0) + 1);
    return { k, direction };
  });
  const own = sessionCovariance(runs, known.variance, v);
  const whole = own.slice();
  rows.forEach((a, i) => {
    rows.slice(0, i + 1).forEach((b, j) => {
      whole[i * n + j] = (whole[i * n + j] as number) + bilinear(answer, a.direction, b.direction);
    });
  });
  const lower = factor(whole, n);
  const slopes = pivotSlopes(runs, before, own);
  const values: number[] = [];
  return runs.map((run, i) => {
    let rest = run.z - base - (answer.effects[rows[i]?.k as number] as number) - known.pull;
    for (let j = 0; j < i; j++) rest -= (lower[i * n + j] as number) * (values[j] as number);
    const value = rest / (lower[i * n + i] as number);
    values.push(value);
    const { pivot, gradient } = slopes[i] as { pivot: number; gradient: number[] };
    return { value, df: Math.max(1, satterthwaiteDf(pivot, gradient, before.componentCovariance)) };
  });
}

interface KnownPath {
  /** Of T + C + S of the new session, given the data and the setups' effects. */
  variance: number;
  /** Its prediction. */
  pull: number;
  /** How the prediction moves with the setups' effects, by their place in the answer; negative shares. */
  toward: Map<number, number>;
}

function pathOf(
  car: CarPart | undefined,
  loop: string,
  answer: SolvedGroup,
  places: ReadonlyMap<string, number>,
  v: Variances,
): KnownPath {
  if (car === undefined) {
    return { variance: v.car + v.carLoop + v.session, pull: 0, toward: new Map() };
  }
  const { problem, setups } = car;
  const tree = weighTree(problem, v);
  const { structure } = problem;
  const at = setups.map((setup) => places.get(setup) as number);
  const residuals = problem.z.map(
    (z, cell) => z - (answer.effects[at[structure.cellSetup[cell] as number] as number] as number),
  );
  const effects = predictEffects(tree, residuals);
  const loopAt = structure.loopIndex.get(nestedKey(car.car, loop)) ?? null;
  const known = knowPath(tree, { car: 0, loop: loopAt, session: null });
  return {
    variance: known.variance + (loopAt === null ? v.carLoop : 0) + v.session,
    pull: (effects.car[0] as number) + (loopAt === null ? 0 : (effects.loop[loopAt] as number)),
    toward: new Map([...known.toward].map(([local, share]) => [at[local] as number, -share])),
  };
}

/** Of the runs given the setups' effects: what the session has in common, and each run's own part. */
function sessionCovariance(runs: readonly Observation[], common: number, v: Variances): Float64Array {
  const n = runs.length;
  const covariance = new Float64Array(n * n).fill(common);
  runs.forEach((run, i) => {
    covariance[i * (n + 1)] = common + v.residual + run.u * run.u;
  });
  return covariance;
}

function bilinear(
  { covariance, setups }: SolvedGroup,
  x: ReadonlyMap<number, number>,
  y: ReadonlyMap<number, number>,
): number {
  let sum = 0;
  for (const [i, a] of x) {
    for (const [j, b] of y) sum += a * b * (covariance[i * setups.length + j] as number);
  }
  return sum;
}

const STEP = 1e-4;

/** Each conditional variance given the setups' effects, and its slope in every component by differences. */
function pivotSlopes(
  runs: readonly Observation[],
  before: Before,
  own: Float64Array,
): { pivot: number; gradient: number[] }[] {
  const n = runs.length;
  const { v, car } = before;
  const pivotsOf = (covariance: Float64Array) => {
    const lower = factor(covariance, n);
    return runs.map((_, i) => (lower[i * (n + 1)] as number) ** 2);
  };
  const step = STEP * (v.car + v.carLoop + v.session + v.residual);
  const loop = runs[0]?.loop ?? '';
  const pivots = pivotsOf(own);
  const moved = COMPONENTS.map((name, j) => {
    // A component that is not estimated has no error to hand on.
    if (before.componentCovariance[j * (COMPONENT_COUNT + 1)] === 0) return pivots;
    const at = { ...v, [name]: v[name] + step };
    const common = commonVariance(car, loop, at);
    return pivotsOf(sessionCovariance(runs, common, at));
  });
  return pivots.map((pivot, i) => ({
    pivot,
    gradient: moved.map((of) => ((of[i] as number) - pivot) / step),
  }));
}

/** As in `pathOf`, the variance alone. */
function commonVariance(car: CarPart | undefined, loop: string, v: Variances): number {
  if (car === undefined) return v.car + v.carLoop + v.session;
  const loopAt = car.problem.structure.loopIndex.get(nestedKey(car.car, loop)) ?? null;
  const { variance } = knowPath(weighTree(car.problem, v), { car: 0, loop: loopAt, session: null });
  return variance + (loopAt === null ? v.carLoop : 0) + v.session;
}
