import type { JobHandlers } from '@/lib/jobs/runPendingJobs';
import { runImport } from './imports/runImport';
import { IMPORT_JOB } from './imports/startImport';
import { parseComparisonGroupKey } from './rankings/comparisonGroup';
import { refitGroup } from './rankings/refitGroup';
import type { Registry } from './registry';

/** What the background does, by kind of job. */
export function jobHandlers(registry: Registry): JobHandlers {
  return {
    refit: async (key) => {
      const group = parseComparisonGroupKey(key);
      if (group === undefined) throw new Error(`not a comparison group: ${key}`);
      await refitGroup(registry, group);
    },
    [IMPORT_JOB]: (importId) => runImport(registry, importId),
  };
}
