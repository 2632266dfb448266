import type { Evaluation } from './criterion';
import { regress, weighTree } from './nestedEffects';
import type { Problem } from './problem';
import type { RunColumns, SharedColumns } from './runColumns';
import type { Scope } from './scopes';

/** What one standard uncertainty of a shared input does to every setup's estimate. */
export interface SharedEffect {
  key: string;
  scope: Scope;
  /** λ_q = M⁻¹X'V⁻¹γ_q with γ_iq = c_iq u_q, in the order of the setups; log scale. */
  effects: number[];
}

type SharedInput = SharedColumns['inputs'][number];

/**
 * Scopes whose inputs the model has no random effect for. What a car shares is in the variance between cars already
 * and what a session shares in that between days: counted again it would make the intervals too wide (method B6).
 */
const OUTSIDE_THE_MODEL: ReadonlySet<Scope> = new Set(['model', 'method']);

/**
 * The effects of all model- and method-scoped inputs on the estimates, one pass over the cells each. Errors of such an
 * input are common to all runs with its key and move the estimates by λ_q; over independent inputs their covariance is
 * Σ_q λ_q λ_q' (law of propagation, JCGM 100:2008, 5.1).
 *
 * @param shared of the runs in the order that the structure was laid out from
 */
export function sharedEffects(problem: Problem, at: Evaluation, shared: SharedColumns): SharedEffect[] {
  const s = problem.structure;
  const gammas = new Map<number, Float64Array>();
  for (let i = 0; i + 1 < shared.starts.length; i++) {
    const cell = s.cellOfItem[i] as number;
    const share = 1 / (s.count[cell] as number);
    for (let at = shared.starts[i] as number; at < (shared.starts[i + 1] as number); at++) {
      const input = shared.inputOf[at] as number;
      const contribution = shared.contribution[at] as number;
      if (contribution === 0 || !OUTSIDE_THE_MODEL.has((shared.inputs[input] as SharedInput).scope)) continue;
      const gamma = gammas.get(input) ?? new Float64Array(s.cells);
      gammas.set(input, gamma);
      gamma[cell] = (gamma[cell] as number) + share * contribution;
    }
  }
  if (gammas.size === 0) return [];
  const tree = weighTree(problem, at.variances);
  const named = [...gammas].map(([input, gamma]) => ({ ...(shared.inputs[input] as SharedInput), gamma }));
  const name = ({ key, scope }: SharedInput) => `${scope}\u0000${key}`;
  return named
    .sort((a, b) => (name(a) < name(b) ? -1 : 1))
    .map(({ key, scope, gamma }) => ({ key, scope, effects: Array.from(regress(tree, at, gamma)) }));
}

/** Σ_q λ_q λ_q' in the order of the setups, m × m flat. */
export function sharedCovariance(effects: readonly SharedEffect[], m: number): Float64Array {
  const covariance = new Float64Array(m * m);
  for (const { effects: lambda } of effects) {
    for (let i = 0; i < m; i++) {
      const x = lambda[i] as number;
      if (x === 0) continue;
      for (let j = 0; j < m; j++) {
        covariance[i * m + j] = (covariance[i * m + j] as number) + x * (lambda[j] as number);
      }
    }
  }
  return covariance;
}

/** The rows of a total covariance without Σ_q λ_q λ_q': what further runs can make smaller. */
export function withoutShared(
  covariance: readonly (readonly number[])[],
  effects: readonly SharedEffect[],
): number[][] {
  const m = covariance.length;
  const shared = sharedCovariance(effects, m);
  return covariance.map((row, i) => row.map((value, j) => value - (shared[i * m + j] as number)));
}

/** Mean over the runs of the squared sum of one scope's contributions: what a budget puts into a component. */
export function meanSquaredPart({ count, shared }: RunColumns, scope: Scope): number {
  let sum = 0;
  for (let at = 0; at < shared.inputOf.length; at++) {
    if (shared.inputs[shared.inputOf[at] as number]?.scope === scope)
      sum += (shared.contribution[at] as number) ** 2;
  }
  return count === 0 ? 0 : sum / count;
}
