import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { defaultTrimM } from '@/lib/capture/trace/trimEnds';
import { digestOf } from '@/lib/files/blobStore';
import { NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { statusesAllowing } from '@/lib/run/runStatus';
import { appendAudit } from '@/lib/store/audit';
import { runState } from '@/lib/store/runs';
import { takeTracesOff, traceOfDraft } from '@/lib/store/traces';
import type { Registry } from '../registry';
import {
  type AttachedTrace,
  type Draft,
  forget,
  keepTrace,
  reduceAnew,
  requireLock,
  submittedAlready,
  windowSchema,
} from './keepTrace';
import { readUpload } from './readUpload';

/** Half a kilometre at least: less would lead to a door. */
const trimSchema = z
  .number()
  .min(
    defaultTrimM,
    'Less than 500 m would be hidden. | A track leads to a door. | Enter 500 m or more; hiding more is always possible.',
  )
  .max(20_000, 'More than 20 km would be hidden. | Nothing would be left to see. | Enter 20 000 m or less.');

export const attachTraceSchema = z.object({
  runId: z.uuid(),
  fileName: z.string().max(300).default('recording'),
  bytes: z.instanceof(Uint8Array),
  /** A CSV's columns by name, as typed. */
  named: z.record(z.string().max(40), z.string().max(200)).optional(),
  window: windowSchema.optional(),
  trimM: trimSchema.optional(),
});

export const changeTraceSchema = z.object({
  runId: z.uuid(),
  window: windowSchema.optional(),
  trimM: trimSchema.optional(),
});

/**
 * Puts a recording to a draft, in place of the one before. The file is kept as it came, by its digest, for its tester
 * and reviewers; what it says of the run and the track without its ends are worked out once, here.
 */
export async function attachTrace(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<AttachedTrace> {
  const { runId, fileName, bytes, named, window, trimM } = parseInput(attachTraceSchema, input);
  const draft = await editableDraft(registry, actor, runId);
  const current = await traceOfDraft(registry.db, runId);
  const isNewChoice = window !== undefined || trimM !== undefined || hasNames(named);
  if (current?.contents && !isNewChoice && current.sha256 === digestOf(bytes)) {
    return { traceId: current.id, wasThere: true };
  }
  const read = await readUpload(registry, draft.testerId, { bytes, named });
  return keepTrace(registry, draft, { fileName: plainName(fileName), bytes, read, window, trimM });
}

/** Chooses another part of a draft's recording, or hides more of its ends. */
export async function changeTrace(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<AttachedTrace> {
  const { runId, window, trimM } = parseInput(changeTraceSchema, input);
  const draft = await editableDraft(registry, actor, runId);
  const current = await traceOfDraft(registry.db, runId);
  if (current === null) throw new NotFound('This run has no recording.');
  return reduceAnew(registry, draft, current, { window, trimM });
}

/** Takes the recording off a draft. A revision that was submitted with it keeps it. */
export async function removeTrace(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { runId } = parseInput(z.object({ runId: z.uuid() }), input);
  const draft = await editableDraft(registry, actor, runId);
  const loose = await registry.db.$transaction(async (tx) => {
    await requireLock(tx, runId);
    const files = await takeTracesOff(tx, runId, registry.now());
    await appendAudit(tx, {
      at: registry.now(),
      actorId: draft.testerId,
      action: 'run.removeTrace',
      subjectKind: 'run',
      subjectId: runId,
    });
    return files;
  });
  await forget(registry, loose);
}

async function editableDraft(registry: Registry, actor: Actor | undefined, runId: string): Promise<Draft> {
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  if (!statusesAllowing('submit').includes(run.status)) throw submittedAlready();
  return { runId, testerId: run.testerId, form: run.draft };
}

function hasNames(named: Readonly<Record<string, string>> | undefined): boolean {
  return Boolean(named?.latitude?.trim() || named?.longitude?.trim() || named?.time?.trim());
}

/** The last part of a path, without control characters: a name to show, never to open. */
function plainName(fileName: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out
  const name = (fileName.split(/[\\/]/).at(-1) ?? '').replace(/[\u0000-\u001f\u007f]/g, '').trim();
  return name.slice(0, 120) || 'recording';
}
