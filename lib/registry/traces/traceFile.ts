import { z } from 'zod';
import { may } from '@/lib/access/permissions';
import { NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { runState } from '@/lib/store/runs';
import { newestTrace } from '@/lib/store/traces';
import { recordPrivateExport } from '../audit/recordAct';
import type { Registry } from '../registry';
import { bytesOf } from './keepTrace';

export interface TraceFileSent {
  bytes: Uint8Array;
  fileName: string;
  mediaType: string;
}

/** IANA registrations; GPX has none of its own but the vendor's. */
const MEDIA_TYPES: ReadonlyMap<string, string> = new Map(
  Object.entries({
    gpx: 'application/gpx+xml',
    csv: 'text/csv',
    geojson: 'application/geo+json',
  }),
);

/** A recording as it was sent, with every place in it: for its tester and reviewers; for others it does not exist. */
export async function traceFile(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<TraceFileSent> {
  const missing = new NotFound('This run has no recording.');
  const run = await runState(registry.db, parseInput(z.uuid(), runId));
  if (run === null || !may(actor, 'readPrivateRun', run.testerId, worldKey(run.world))) throw missing;
  // What a tester is still trying out on a draft is nobody else's to see.
  const isOwn = actor?.accountId === run.testerId;
  const trace = await newestTrace(registry.db, runId, isOwn ? 'any' : 'submitted');
  if (trace === null) throw missing;
  const bytes = await bytesOf(registry, trace);
  // Also of a public run: readers see the recording without its ends.
  if (!isOwn) await recordPrivateExport(registry, actor, { kind: 'run', id: runId, file: 'recording' });
  return {
    bytes,
    fileName: `run-${run.number}.${trace.format}`,
    mediaType: MEDIA_TYPES.get(trace.format) ?? 'application/octet-stream',
  };
}
