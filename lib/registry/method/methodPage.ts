import { estimatePriors } from '@/lib/physics/estimate/estimatePriors';
import { METHOD_VERSION, STEP_NAMES, type StepName } from '@/lib/physics/normalise';
import { allPriors, PRIORS_VERSION, type Prior, youngClassSpread } from '@/lib/physics/priors';
import { REACH_LIMITS, type ReachLimits } from '@/lib/physics/reach';
import { STANDARD_REFERENCE } from '@/lib/physics/roadLoad';
import { RECORD } from '@/lib/run/world';
import type { Registry } from '../registry';
import { labelInEffect } from './methodInEffect';
import { type AdoptedVersion, readMethodVersions } from './methodVersions';

export interface MethodPageView {
  /** In effect in the record. */
  methodVersion: string;
  /** Of the engine alone. */
  engine: string;
  /** What stewards adopted, the newest first. */
  versions: readonly AdoptedVersion[];
  priorsVersion: string;
  reference: typeof STANDARD_REFERENCE;
  reach: ReachLimits;
  steps: readonly StepName[];
  priors: readonly Prior[];
  /** Of an estimate for a reader, beyond those: no published result rests on them. */
  estimatePriors: readonly Prior[];
  /** Of the priors: standard deviations that a young class borrows. */
  youngClass: ReturnType<typeof youngClassSpread>;
}

/** The method in force as data: what the page prints is what the engine uses. */
export async function methodPage(registry: Registry): Promise<MethodPageView> {
  return {
    methodVersion: await labelInEffect(registry.db, RECORD),
    engine: METHOD_VERSION,
    versions: await readMethodVersions(registry),
    priorsVersion: PRIORS_VERSION,
    reference: STANDARD_REFERENCE,
    reach: REACH_LIMITS,
    steps: STEP_NAMES,
    priors: allPriors(),
    estimatePriors: estimatePriors(),
    youngClass: youngClassSpread(),
  };
}
