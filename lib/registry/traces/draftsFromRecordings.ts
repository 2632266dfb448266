import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { loopsNear } from '@/lib/capture/trace/loopsNear';
import { recordedForm } from '@/lib/capture/trace/recordedForm';
import { reduceUpload } from '@/lib/capture/trace/reduceUpload';
import { defaultTrimM } from '@/lib/capture/trace/trimEnds';
import { digestOf } from '@/lib/files/blobStore';
import { Conflict, InvalidInput, NotAllowed, NotFound, TooLarge } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { carOwner } from '@/lib/store/cars';
import { ownLoopTraces } from '@/lib/store/traces';
import { boundUse } from '../accounts/boundUse';
import type { Registry } from '../registry';
import { startDraft } from '../runs/startDraft';
import { attachTrace } from './attachTrace';
import { type KnownOwnLoop, knownOwnLoops } from './knownLoops';
import { irreducible, readUpload } from './readUpload';

/** So many recordings at once; each is read and worked out while the page waits. */
export const MOST_RECORDINGS = 20;

/** Loops that a recording is held against, those last driven first. */
const MOST_LOOPS = 50;

export const draftsFromRecordingsSchema = z.object({
  carId: z.uuid('No car chosen. | A run belongs to one car. | Choose the car that made these recordings.'),
  /** The zone of the reader's clock by its IANA name, where the browser says it. */
  timeZone: z.string().max(60).optional(),
  files: z
    .array(z.object({ fileName: z.string().max(300), bytes: z.instanceof(Uint8Array) }))
    .min(1, 'No recording was chosen. | There is nothing to read. | Choose one or more files.')
    .max(
      MOST_RECORDINGS,
      `More than ${MOST_RECORDINGS} files were chosen. | They are read while you wait. | Send them in parts.`,
    ),
});

/** What became of one file. */
export type RecordingOutcome =
  | {
      kind: 'draft';
      fileName: string;
      runId: string;
      runNumber: number;
      /** By the clock at the loop, yyyy-mm-ddThh:mm. */
      startedAtLocal: string;
      /** Undefined where no loop of the tester's lies there. */
      loopName: string | undefined;
      wasThere: boolean;
    }
  | { kind: 'refused'; fileName: string; reason: string };

/**
 * Makes a draft of each recording: with the car, the loop that it was driven on, its start and what it knows best. One
 * file that cannot be read stops none of the others. The same file for the same car finds the draft that it made.
 */
export async function draftsFromRecordings(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<RecordingOutcome[]> {
  authorise(actor, 'recordRun');
  const { carId, timeZone, files } = parseInput(draftsFromRecordingsSchema, input);
  const owner = await carOwner(registry.db, carId);
  if (owner === null) throw new NotFound('This car does not exist.');
  authorise(actor, 'editCar', owner.ownerId);
  const loops = knownOwnLoops(await ownLoopTraces(registry.db, actor.accountId, MOST_LOOPS));
  const outcomes: RecordingOutcome[] = [];
  for (const { fileName, bytes } of files) {
    try {
      await boundUse(registry, actor, 'upload');
      outcomes.push(await draftFrom(registry, actor, { fileName, bytes, carId, timeZone, loops }));
    } catch (error) {
      outcomes.push({ kind: 'refused', fileName, reason: reasonOf(error) });
    }
  }
  return outcomes;
}

interface OneRecording {
  fileName: string;
  bytes: Uint8Array;
  carId: string;
  timeZone: string | undefined;
  loops: readonly KnownOwnLoop[];
}

async function draftFrom(
  registry: Registry,
  actor: Actor,
  { fileName, bytes, carId, timeZone, loops }: OneRecording,
): Promise<RecordingOutcome> {
  const { file, columns } = await readUpload(registry, actor.accountId, { bytes });
  const reduced = (loop: KnownOwnLoop | undefined) =>
    reduceUpload(file, {
      columns,
      window: undefined,
      startedAtMs: undefined,
      trimM: defaultTrimM,
      cruiseClassKey: undefined,
      knownLoop: loop,
    });
  const tried = loopsNear(file.points, loops).map((loop) => ({ loop, upload: reduced(loop) }));
  const found = tried.find(({ upload }) => upload.ok && upload.stored.loopMatch?.isMatch === true);
  const upload = found?.upload ?? reduced(undefined);
  if (!upload.ok) throw irreducible(upload.refusal);
  const form = recordedForm(upload.stored, { carId, loopId: found?.loop.id, timeZone });
  const creationKey = `recording-${digestOf(bytes).slice(0, 40)}-${carId}`.slice(0, 80);
  const { runId, number, draftVersion } = await startDraft(registry, actor, { creationKey, form });
  const { wasThere } = await attachTrace(registry, actor, { runId, fileName, bytes });
  return {
    kind: 'draft',
    fileName,
    runId,
    runNumber: number,
    startedAtLocal: form.startedAtLocal ?? '',
    loopName: found?.loop.name,
    wasThere: wasThere || draftVersion > 1,
  };
}

/** In a sentence or two; a fault of the program is thrown on. */
function reasonOf(error: unknown): string {
  if (error instanceof InvalidInput)
    return error.issues.map(({ what, why, fix }) => `${what} ${why} ${fix}`).join(' ');
  if (error instanceof Conflict || error instanceof NotAllowed || error instanceof TooLarge)
    return error.message;
  throw error;
}
