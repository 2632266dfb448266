import { z } from 'zod';
import type { KnownLoop } from '@/lib/capture/trace/loopMatch';
import { reduceUpload } from '@/lib/capture/trace/reduceUpload';
import type { StoredTrace } from '@/lib/capture/trace/storedTrace';
import { defaultTrimM } from '@/lib/capture/trace/trimEnds';
import { isSha256 } from '@/lib/files/blobStore';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseLocalStart } from '@/lib/run/localStart';
import type { RunForm } from '@/lib/run/runForm';
import { statusesAllowing } from '@/lib/run/runStatus';
import { appendAudit } from '@/lib/store/audit';
import {
  filesWithoutUse,
  insertTrace,
  lockRun,
  ownTraceOnLoop,
  type TraceRow,
  takeTracesOff,
  traceOfDraft,
} from '@/lib/store/traces';
import type { Registry } from '../registry';
import { irreducible, noLongerReadable, type ReadUpload, readUpload } from './readUpload';

/** Part of a recording, or all of it. */
export const windowSchema = z.union([
  z.literal('whole'),
  z
    .object({ startMs: z.number().int(), endMs: z.number().int() })
    .refine(({ startMs, endMs }) => endMs > startMs, {
      message: 'The part ends before it begins. | A run takes time. | Check both times.',
    }),
]);

export interface Draft {
  runId: string;
  testerId: string;
  form: RunForm;
}

export interface AttachedTrace {
  traceId: string;
  /** The same recording was there already, with the same choices. */
  wasThere: boolean;
}

export interface Upload {
  fileName: string;
  bytes: Uint8Array;
  read: ReadUpload;
  window: z.output<typeof windowSchema> | undefined;
  trimM: number | undefined;
}

export async function keepTrace(registry: Registry, draft: Draft, upload: Upload): Promise<AttachedTrace> {
  const { runId, form } = draft;
  const { file, format, columns } = upload.read;
  const reduced = reduceUpload(file, {
    columns,
    window: upload.window,
    startedAtMs: startOf(form, registry.now()),
    trimM: upload.trimM ?? defaultTrimM,
    cruiseClassKey: form.cruiseClassKey,
    knownLoop: await knownLoop(registry, draft),
  });
  if (!reduced.ok) throw irreducible(reduced.refusal);
  const sha256 = await registry.blobs.put(upload.bytes);
  const { traceId, loose } = await registry.db.$transaction(async (tx) => {
    await requireLock(tx, runId);
    const at = registry.now();
    const files = await takeTracesOff(tx, runId, at);
    const trace = await insertTrace(tx, {
      runId,
      uploadedById: draft.testerId,
      fileName: upload.fileName,
      format,
      sha256,
      pointsRead: file.pointsRead,
      pointsUsed: reduced.pointsUsed,
      reduction: reduced.stored,
      publicTrack: reduced.publicTrack,
      uploadedAt: at,
    });
    await appendAudit(tx, {
      at,
      actorId: draft.testerId,
      action: 'run.addTrace',
      subjectKind: 'run',
      subjectId: runId,
      details: { sha256, points: file.pointsRead },
    });
    return { traceId: trace.id, loose: files.filter((digest) => digest !== sha256) };
  });
  await forget(registry, loose);
  return { traceId, wasThere: false };
}

export async function requireLock(tx: Parameters<typeof lockRun>[0], runId: string): Promise<void> {
  if (!(await lockRun(tx, runId, statusesAllowing('submit')))) throw submittedAlready();
}

export function submittedAlready(): Conflict {
  return new Conflict('This run has been submitted: its recording can no longer be changed.');
}

/** Removes files that were given up, unless something came to refer to them since. */
export async function forget(registry: Registry, digests: readonly string[]): Promise<void> {
  for (const digest of await filesWithoutUse(registry.db, digests)) {
    if (isSha256(digest)) await registry.blobs.remove(digest);
  }
}

/** The loop of the draft as this tester's own last recording on it saw it. */
async function knownLoop(
  registry: Registry,
  { runId, testerId, form }: Draft,
): Promise<KnownLoop | undefined> {
  const loopId = z.uuid().safeParse(form.loopId);
  if (!loopId.success) return undefined;
  const found = await ownTraceOnLoop(registry.db, { loopId: loopId.data, testerId, exceptRunId: runId });
  if (found === undefined) return undefined;
  const { places, reduction } = found;
  if (places.turnaround === null) return undefined;
  const { start, turnaround, outline } = places;
  return { id: loopId.data, start, turnaround, outline, lengthM: reduction.distanceM };
}

function startOf(form: RunForm, now: Date): number | undefined {
  const start = parseLocalStart(form.startedAtLocal ?? '', form.utcOffsetMin ?? '', now.toISOString(), []);
  return start && Date.parse(start.startedAt);
}

/** The draft's recording, worked out for the class that the run is submitted in. */
export async function traceForClass(
  registry: Registry,
  draft: Draft,
): Promise<{ traceId: string; stored: StoredTrace } | undefined> {
  const current = await traceOfDraft(registry.db, draft.runId);
  if (current === null) return undefined;
  const stored = contentsOf(current).stored;
  if (stored.cruiseClassKey === (draft.form.cruiseClassKey ?? null)) return { traceId: current.id, stored };
  await reduceAnew(registry, draft, current, {});
  const anew = await traceOfDraft(registry.db, draft.runId);
  return anew === null ? undefined : { traceId: anew.id, stored: contentsOf(anew).stored };
}

/** The same file once more, with other choices. */
export async function reduceAnew(
  registry: Registry,
  draft: Draft,
  current: TraceRow,
  changes: Pick<Upload, 'window' | 'trimM'> | Record<string, never>,
): Promise<AttachedTrace> {
  const before = contentsOf(current).stored;
  const bytes = await bytesOf(registry, current);
  const read = await readUpload(registry, draft.testerId, { bytes, columns: before.columns });
  return keepTrace(registry, draft, {
    fileName: current.fileName,
    bytes,
    read,
    window: changes.window ?? before.window ?? 'whole',
    trimM: changes.trimM ?? before.trimM,
  });
}

/** What was made of a recording's file, or a refusal that says what to do where that cannot be read. */
export function contentsOf({ contents }: Pick<TraceRow, 'contents'>): NonNullable<TraceRow['contents']> {
  if (contents === null) throw noLongerReadable();
  return contents;
}

/** The file behind a trace. */
export async function bytesOf(registry: Registry, trace: Pick<TraceRow, 'sha256'>): Promise<Uint8Array> {
  const bytes = isSha256(trace.sha256) ? await registry.blobs.get(trace.sha256) : null;
  if (bytes === null) throw new NotFound('The file of this recording is gone.');
  return bytes;
}
