import { mirror } from '@/lib/numerics/cholesky';
import { accumulate, type Variances } from './accumulate';
import type { Problem } from './problem';
import { layOutRuns, type Observation } from './structure';

/**
 * One car's share of the class's equations. Runs of different cars are independent given the setups, so V is block
 * diagonal over cars and M = X'V⁻¹X, r = X'V⁻¹z are sums over them (method B2): with the shares kept apart a car, a
 * tester or a day can be left out or added without a new pass over the rest.
 */
export interface CarPart {
  car: string;
  /** The car's own runs as a problem in original units, relative to a base common to all parts. */
  problem: Problem;
  /** Components that M and r were made at. */
  v: Variances;
  /** Names of the setups that it drove; the order of what follows. */
  setups: readonly string[];
  /** X'V⁻¹X, q × q. */
  cross: Float64Array;
  /** X'V⁻¹z. */
  right: Float64Array;
}

/** Weights stay finite where every u is 0 and the runs agree: no run counts for more than this share allows. */
const LEAST_RUN_VARIANCE = 1e-8;

/** Components as weights can be made from them. */
export function weighable(components: Variances, leastU: number): Variances {
  const { car, carLoop, session, residual } = components;
  const least = LEAST_RUN_VARIANCE * (car + carLoop + session + residual) - leastU * leastU;
  return { ...components, residual: Math.max(residual, least) };
}

/**
 * @param runs of one car
 * @param v as `weighable` gives them
 * @param base subtracted from every value, the same for all cars of a class
 */
export function carPart(runs: readonly Observation[], v: Variances, base: number): CarPart {
  const structure = layOutRuns(runs);
  const q = structure.setups.length;
  const shift = structure.origin - base;
  const problem: Problem = {
    structure,
    hasCarLoop: v.carLoop > 0,
    p: q,
    design: null,
    scale: 1,
    base,
    offset: new Float64Array(q),
    z: structure.mean.map((mean) => mean + shift),
    squares: structure.squares,
    knownVariance: structure.knownVariance,
  };
  const { z, squares, knownVariance, hasCarLoop } = problem;
  const products = accumulate(structure, z, squares, knownVariance, v, hasCarLoop, false);
  const whole = mirror(products.cross, q + 1);
  const cross = new Float64Array(q * q);
  for (let i = 0; i < q; i++) cross.set(whole.subarray(i * (q + 1), i * (q + 1) + q), i * q);
  const right = whole.slice(q * (q + 1), q * (q + 1) + q);
  return { car: runs[0]?.car ?? '', problem, v, setups: structure.setups, cross, right };
}

/** All cars' parts of a class. */
export function carParts(runs: readonly Observation[], components: Variances): CarPart[] {
  const byCar = new Map<string, Observation[]>();
  let [base, leastU] = [0, Number.POSITIVE_INFINITY];
  for (const run of runs) {
    const own = byCar.get(run.car);
    if (own === undefined) byCar.set(run.car, [run]);
    else own.push(run);
    leastU = Math.min(leastU, run.u);
  }
  base = runs[0]?.z ?? 0;
  const v = weighable(components, runs.length === 0 ? 0 : leastU);
  return [...byCar.values()].map((own) => carPart(own, v, base));
}
