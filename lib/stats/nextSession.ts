import type { Variances } from './accumulate';

/**
 * What a session that has not been driven would do to a difference that was fitted, at components that are held.
 *
 * Runs of different cars are independent given the setups, so M = X'V⁻¹X is a sum over cars, and a further session moves
 * one car's share alone. With w = 1/(v + u²), and of the session a = Σw, c = Σw by setup, f = 1 + v_S a, g = v_S/f:
 *   of the loop l:  A_l* = A_l + a/f,  C_l* = C_l + c/f,  F_l = 1 + v_C A_l
 *   of the car:     A = Σ A_l/F_l,     C = Σ C_l/F_l,     F = 1 + v_T A
 *   dM = diag(c) − g cc' + (v_C/F_l) C_lC_l' − (v_C/F_l*) C_l*C_l*' + (v_T/F) CC' − (v_T/F*) C*C*'
 * Absorbing one nested level after the other as in Harville D. A. (1977), JASA 72, 320–338. M⁻¹ follows from one rank
 * after the other: (M + s vv')⁻¹ = M⁻¹ − s M⁻¹vv'M⁻¹ / (1 + s v'M⁻¹v) (Sherman J., Morrison W. J. 1950, Ann. Math.
 * Statist. 21, 124–127); what adds comes before what takes away, so that no step passes through a singular matrix.
 */

/** Σ 1/(v + u²) of the runs of one session, by setup; 1/ln². */
export type SessionWeights = ReadonlyMap<string, number>;

/** What a car has driven so far in the fit: by loop, its sessions. A car that is new has none. */
export type CarSoFar = ReadonlyMap<string, readonly SessionWeights[]>;

/** A symmetric matrix of rank one, scale · vv', its vector by setup. */
interface RankOne {
  scale: number;
  vector: ReadonlyMap<string, number>;
}

/** Σ of sessions that are absorbed: A and C of a loop, or of a car. */
interface Absorbed {
  weight: number;
  bySetup: Map<string, number>;
}

function add(to: Absorbed, weight: number, bySetup: ReadonlyMap<string, number>, share: number): void {
  to.weight += weight * share;
  for (const [setup, own] of bySetup) to.bySetup.set(setup, (to.bySetup.get(setup) ?? 0) + own * share);
}

function addSession(to: Absorbed, session: SessionWeights, sessionVariance: number): void {
  const a = total(session);
  add(to, a, session, 1 / (1 + sessionVariance * a));
}

function total(session: SessionWeights): number {
  let sum = 0;
  for (const weight of session.values()) sum += weight;
  return sum;
}

function empty(): Absorbed {
  return { weight: 0, bySetup: new Map() };
}

/** What a session of a car on a loop adds to M, in the order in which it may be added. */
export function addedInformation(
  car: CarSoFar,
  added: { loop: string; session: SessionWeights },
  components: Variances,
): RankOne[] {
  const { car: vT, carLoop: vC, session: vS } = components;
  const loopBefore = empty();
  const carBefore = empty();
  const carAfter = empty();
  for (const [loop, sessions] of car) {
    const own = loop === added.loop ? loopBefore : empty();
    for (const session of sessions) addSession(own, session, vS);
    const share = 1 / (1 + vC * own.weight);
    add(carBefore, own.weight, own.bySetup, share);
    if (loop !== added.loop) add(carAfter, own.weight, own.bySetup, share);
  }
  const loopAfter: Absorbed = { weight: loopBefore.weight, bySetup: new Map(loopBefore.bySetup) };
  addSession(loopAfter, added.session, vS);
  add(carAfter, loopAfter.weight, loopAfter.bySetup, 1 / (1 + vC * loopAfter.weight));
  const a = total(added.session);
  const units = [...added.session].map(([setup, weight]) => ({
    scale: weight,
    vector: new Map([[setup, 1]]),
  }));
  return [
    ...units,
    { scale: vC / (1 + vC * loopBefore.weight), vector: loopBefore.bySetup },
    { scale: vT / (1 + vT * carBefore.weight), vector: carBefore.bySetup },
    { scale: -vS / (1 + vS * a), vector: added.session },
    { scale: -vC / (1 + vC * loopAfter.weight), vector: loopAfter.bySetup },
    { scale: -vT / (1 + vT * carAfter.weight), vector: carAfter.bySetup },
  ].filter(({ scale, vector }) => scale !== 0 && vector.size > 0);
}

/** M⁻¹ of a fit with the names of its rows. */
export interface FittedCovariance {
  /** Where each setup stands. */
  place: ReadonlyMap<string, number>;
  covariance: readonly (readonly number[])[];
}

/**
 * Variance of ln(a) − ln(b) before and after what is added; log scale.
 *
 * @param covariance M⁻¹, without what all runs of a model or of the method share, which no session makes smaller
 * @throws RangeError where a setup has no row: it has no variance that could shrink
 */
export function varianceWith(
  { place, covariance }: FittedCovariance,
  pair: { a: string; b: string },
  added: readonly RankOne[],
): { before: number; after: number } {
  const m = covariance.length;
  const placeOf = (setup: string): number => {
    const at = place.get(setup);
    if (at === undefined) throw new RangeError(`${setup} has no run in the fit`);
    return at;
  };
  const times = (vector: readonly (readonly [number, number])[]): Float64Array => {
    const product = new Float64Array(m);
    for (const [at, value] of vector) {
      const row = covariance[at] as readonly number[];
      for (let i = 0; i < m; i++) product[i] = (product[i] as number) + value * (row[i] as number);
    }
    return product;
  };
  const contrast = [[placeOf(pair.a), 1] as const, [placeOf(pair.b), -1] as const];
  const y = times(contrast);
  const of = (vector: readonly (readonly [number, number])[], x: Float64Array) =>
    vector.reduce((sum, [at, value]) => sum + value * (x[at] as number), 0);
  const before = of(contrast, y);
  const steps = added.map(({ scale, vector }) => {
    const sparse = [...vector].map(([setup, value]) => [placeOf(setup), value] as const);
    return { scale, sparse, product: times(sparse) };
  });
  steps.forEach(({ scale, sparse, product }, k) => {
    const share = scale / (1 + scale * of(sparse, product));
    const take = (from: Float64Array) => {
      const part = share * of(sparse, from);
      for (let i = 0; i < m; i++) from[i] = (from[i] as number) - part * (product[i] as number);
    };
    for (const later of steps.slice(k + 1)) take(later.product);
    take(y);
  });
  return { before, after: of(contrast, y) };
}
