import type { RepeatedJob } from '@/lib/jobs/askForRepeated';
import type { JobHandlers } from '@/lib/jobs/runPendingJobs';
import { runImport } from './imports/runImport';
import { IMPORT_JOB } from './imports/startImport';
import { parseComparisonGroupKey } from './rankings/comparisonGroup';
import { refitGroup } from './rankings/refitGroup';
import { REFIT_POOLED_JOB, refitPooled } from './rankings/refitPooled';
import type { Registry } from './registry';
import { LEARN_JOB, learnRoadLoad } from './roadLoads/learnRoadLoad';
import { REBUILD_INPUTS_JOB, rebuildInputs } from './runs/rebuildInputs';
import { RENORMALISE_JOB, renormaliseAll } from './runs/renormaliseAll';

/** What the background does, by kind of job. */
export function jobHandlers(registry: Registry): JobHandlers {
  return {
    refit: async (key) => {
      const group = parseComparisonGroupKey(key);
      if (group === undefined) throw new Error(`not a comparison group: ${key}`);
      await refitGroup(registry, group);
    },
    [REFIT_POOLED_JOB]: async () => {
      await refitPooled(registry);
    },
    [LEARN_JOB]: async (modelId) => {
      await learnRoadLoad(registry, modelId);
    },
    [REBUILD_INPUTS_JOB]: async () => {
      await rebuildInputs(registry);
    },
    [RENORMALISE_JOB]: async () => {
      await renormaliseAll(registry);
    },
    [IMPORT_JOB]: (importId) => runImport(registry, importId),
  };
}

/** What the background does by itself: once a day. */
export const REPEATED_JOBS: readonly RepeatedJob[] = [
  { kind: REFIT_POOLED_JOB, key: 'all', everyMs: 24 * 60 * 60 * 1000 },
];
