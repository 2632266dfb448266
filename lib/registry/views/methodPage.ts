import { METHOD_VERSION, STEP_NAMES, type StepName } from '@/lib/physics/normalise';
import { allPriors, PRIORS_VERSION, type Prior } from '@/lib/physics/priors';
import { REACH_LIMITS, type ReachLimits } from '@/lib/physics/reach';
import { STANDARD_REFERENCE } from '@/lib/physics/roadLoad';

export interface MethodPageView {
  methodVersion: string;
  priorsVersion: string;
  reference: typeof STANDARD_REFERENCE;
  reach: ReachLimits;
  steps: readonly StepName[];
  priors: readonly Prior[];
}

/** The method in force as data: what the page prints is what the engine uses. */
export function methodPage(): MethodPageView {
  return {
    methodVersion: METHOD_VERSION,
    priorsVersion: PRIORS_VERSION,
    reference: STANDARD_REFERENCE,
    reach: REACH_LIMITS,
    steps: STEP_NAMES,
    priors: allPriors(),
  };
}
