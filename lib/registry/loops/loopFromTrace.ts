import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { LOOP_NUMBERS } from '@/lib/capture/loopForm';
import { reduceUpload } from '@/lib/capture/trace/reduceUpload';
import { defaultTrimM } from '@/lib/capture/trace/trimEnds';
import { type LoopProposal, loopProposal } from '@/lib/reduction/loopProposal';
import { InvalidInput, NotFound } from '@/lib/run/errors';
import { parseNumbers } from '@/lib/run/numberField';
import { parseForm } from '@/lib/run/parseForm';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import { dropLoopTraces, insertTrace, ownTrace } from '@/lib/store/traces';
import type { Registry } from '../registry';
import { contentsOf, forget } from '../traces/keepTrace';
import { irreducible, readUpload } from '../traces/readUpload';
import { addLoop, addLoopSchema } from './addLoop';

export const uploadForLoopSchema = z.object({
  fileName: z.string().max(300).default('recording'),
  bytes: z.instanceof(Uint8Array),
  named: z.record(z.string().max(40), z.string().max(200)).optional(),
});

/** Reads a recording that a loop is to be made from; one at a time a tester, dropped once the loop is there. */
export async function uploadForLoop(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ traceId: string }> {
  authorise(actor, 'addLoop');
  const { fileName, bytes, named } = parseInput(uploadForLoopSchema, input);
  const { file, format, columns } = await readUpload(registry, actor.accountId, { bytes, named });
  const reduced = reduceUpload(file, {
    columns,
    window: undefined,
    startedAtMs: undefined,
    trimM: defaultTrimM,
    cruiseClassKey: undefined,
    knownLoop: undefined,
  });
  if (!reduced.ok) throw irreducible(reduced.refusal);
  if (reduced.stored.reduction.legs === null) throw noTurnaround();
  const sha256 = await registry.blobs.put(bytes);
  const { traceId, loose } = await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const files = await dropLoopTraces(tx, actor.accountId);
    const { id } = await insertTrace(tx, {
      runId: null,
      uploadedById: actor.accountId,
      fileName: fileName.slice(0, 120),
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
      actorId: actor.accountId,
      action: 'loop.sendRecording',
      subjectKind: 'trace',
      subjectId: id,
    });
    return { traceId: id, loose: files.filter((digest) => digest !== sha256) };
  });
  await forget(registry, loose);
  return { traceId };
}

/** What a loop made from one's own recording would be. */
export async function proposedLoop(
  registry: Registry,
  actor: Actor | undefined,
  traceId: string,
): Promise<LoopProposal> {
  authorise(actor, 'addLoop');
  const trace = await ownTrace(registry.db, parseInput(z.uuid(), traceId), actor.accountId);
  if (trace === null) throw new NotFound('This recording does not exist.');
  const { stored, track } = contentsOf(trace);
  const proposal = loopProposal(stored, track);
  if (proposal === null) throw noTurnaround();
  return proposal;
}

/** Adds the loop with the numbers as the tester left them, and the route, legs and heights of the recording. */
export async function addLoopFromTrace(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ loopId: string; slug: string }> {
  const { traceId, form } = parseInput(
    z.object({ traceId: z.uuid(), form: z.record(z.string().max(60), z.string().max(4000)) }),
    input,
  );
  const proposal = await proposedLoop(registry, actor, traceId);
  const { values, issues } = parseNumbers(form, LOOP_NUMBERS);
  const { outboundLengthM, outboundClimbM, ...numbers } = values;
  const text = (name: string) => form[name] ?? '';
  const scale = (numbers.lengthM ?? proposal.lengthM) / proposal.lengthM;
  const loop = parseForm(addLoopSchema, {
    issues,
    input: {
      ...numbers,
      name: text('name'),
      region: text('region'),
      description: text('description'),
      turnaround: text('turnaround'),
      lengthSource: text('lengthSource'),
      bearings: proposal.bearings,
      outline: proposal.outline,
      elevationProfile: proposal.elevationProfile,
      legs: proposal.legs.map((leg) => ({ ...leg, lengthM: leg.lengthM * scale })),
    },
  });
  const added = await addLoop(registry, actor, loop);
  await forget(registry, await dropLoopTraces(registry.db, actor?.accountId ?? ''));
  return added;
}

function noTurnaround(): InvalidInput {
  return new InvalidInput([
    {
      path: 'trace',
      what: 'The way back does not follow the way out.',
      why: 'A loop here leads out and back on one road, so that wind and slope cancel.',
      fix: 'Choose the recording of a drive out and back.',
    },
  ]);
}
