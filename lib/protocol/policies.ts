import { z } from 'zod';
import { ascending, choice, count, probability } from './parameterKinds';
import type { LimitsSchema } from './rule';

/** What a version states besides its rules: every version has had it from the first on. */
export const POLICIES = {
  /** What a setup needs before it is ranked; used by the rankings, not by a rule. */
  ranking: z.object({
    runs: count('Runs before a setup is ranked'),
    sessions: count('Sessions before a setup is ranked'),
    cars: count('Cars before a setup is ranked'),
    carsAcrossModels: count('Cars on each side before two models are ranked against each other'),
  }),
  /** When a decision needs a second look; used by the review, not by a rule. */
  screening: ascending(
    {
      stragglerLevel: probability('Level at which a run is marked as straggling'),
      outlierLevel: probability('Level at which a run asks for a second approval'),
      secondApprovalOnNewLead: choice('A run that changes a lead asks for a second approval'),
    },
    ['outlierLevel', 'stragglerLevel'],
  ),
} satisfies LimitsSchema;
