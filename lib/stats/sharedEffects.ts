import type { Evaluation } from './criterion';
import { regress, weighTree } from './nestedEffects';
import type { Problem } from './problem';
import type { Scope, SharedContribution } from './scopes';

/** What one standard uncertainty of a shared input does to every setup's estimate. */
export interface SharedEffect {
  key: string;
  scope: Scope;
  /** λ_q = M⁻¹X'V⁻¹γ_q with γ_iq = c_iq u_q, in the order of the setups; log scale. */
  effects: number[];
}

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
 * @param rows in the order that the structure was laid out from
 */
export function sharedEffects(
  problem: Problem,
  at: Evaluation,
  rows: readonly { shared?: readonly SharedContribution[] }[],
): SharedEffect[] {
  const s = problem.structure;
  const gammas = new Map<string, { key: string; scope: Scope; gamma: Float64Array }>();
  rows.forEach((row, i) => {
    const cell = s.cellOfItem[i] as number;
    const share = 1 / (s.count[cell] as number);
    for (const { key, scope, contribution } of row.shared ?? []) {
      if (!OUTSIDE_THE_MODEL.has(scope) || contribution === 0) continue;
      const name = `${scope}\u0000${key}`;
      const known = gammas.get(name) ?? { key, scope, gamma: new Float64Array(s.cells) };
      gammas.set(name, known);
      known.gamma[cell] = (known.gamma[cell] as number) + share * contribution;
    }
  });
  if (gammas.size === 0) return [];
  const tree = weighTree(problem, at.variances);
  return [...gammas]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, { key, scope, gamma }]) => ({ key, scope, effects: Array.from(regress(tree, at, gamma)) }));
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

/** Mean over the rows of the squared sum of one scope's contributions: what a budget puts into a component. */
export function meanSquaredPart(
  rows: readonly { shared?: readonly SharedContribution[] }[],
  scope: Scope,
): number {
  let sum = 0;
  for (const row of rows) {
    for (const part of row.shared ?? []) if (part.scope === scope) sum += part.contribution ** 2;
  }
  return rows.length === 0 ? 0 : sum / rows.length;
}
