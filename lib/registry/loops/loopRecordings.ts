import { recordingSnapshot } from '@/lib/reduction/recordingSnapshot';
import { type RunTrace, runTrace } from '@/lib/reduction/runTrace';
import { tracesOnLoop } from '@/lib/store/traces';
import type { Registry } from '../registry';

/** More recordings than these tell no more of how a loop is driven. */
const MOST_RECORDINGS = 60;

/** The newest recordings of a loop's approved runs, but for that of the run that is asked for. */
export async function loopRecordings(
  registry: Registry,
  loop: { id: string; lengthM: number; lengthUncertaintyM: number },
  exceptRunId: string,
): Promise<RunTrace[]> {
  const rows = await tracesOnLoop(registry.db, loop.id, MOST_RECORDINGS);
  return rows.flatMap(({ number, run, trace }) =>
    trace === null || number !== run.approvedRevision || run.id === exceptRunId
      ? []
      : [runTrace(recordingSnapshot('', trace.reduction, loop), loop)],
  );
}
