import type { Scope } from '../scopes';
import type { AnsweringGroup } from './pooledEffect';

/** The difference of two setups of one model as a fit has it, log scale. */
export interface FittedDifference {
  difference: number;
  /** Total, with what the runs share by model and method. */
  se: number;
  /** Of the total. */
  dof: number;
}

interface FitOfClass {
  setups: readonly string[];
  sharedEffects: readonly { key: string; scope: Scope; effects: readonly number[] }[];
}

/**
 * A model's difference as one answer among several models' (method C6). No car drives two models, so only what hangs on
 * the method correlates them: it leaves the model's own variance and goes by key. The degrees of freedom stay those of
 * the fit's part, ν' = ν (own/total)², since the noise 2·total²/ν of the variance is all the fit's.
 */
export function modelDifference(
  name: string,
  fitted: FittedDifference,
  pair: { baselineId: string; setupId: string },
  fit: FitOfClass,
): Omit<AnsweringGroup, 'testers'> {
  const [a, b] = [fit.setups.indexOf(pair.setupId), fit.setups.indexOf(pair.baselineId)];
  const shared: Record<string, number> = {};
  let ofMethod = 0;
  for (const { key, scope, effects } of fit.sharedEffects) {
    if (scope !== 'method') continue;
    const left = (effects[a] ?? 0) - (effects[b] ?? 0);
    shared[key] = left;
    ofMethod += left * left;
  }
  const total = fitted.se * fitted.se;
  // rounding alone could bring it to nothing
  const variance = Math.max(total - ofMethod, total * 1e-6);
  return { name, y: fitted.difference, variance, df: fitted.dof * (variance / total) ** 2, shared };
}
