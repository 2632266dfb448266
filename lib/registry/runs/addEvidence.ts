import { createHash } from 'node:crypto';
import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import type { CaptureTime } from '@/lib/files/exifTime';
import { acceptImage } from '@/lib/files/image';
import { bandsOf } from '@/lib/files/pictureHash';
import { Conflict, InvalidInput, NotFound, TooLarge } from '@/lib/run/errors';
import { type EvidenceKind, PHOTO_FIELDS } from '@/lib/run/fields/table';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { statusesAllowing } from '@/lib/run/runStatus';
import { appendAudit } from '@/lib/store/audit';
import { equalEvidence, evidenceOf, insertEvidence, removeEvidenceFile } from '@/lib/store/evidence';
import { runState } from '@/lib/store/runs';
import { lockRun } from '@/lib/store/traces';
import type { Registry } from '../registry';

const kinds = PHOTO_FIELDS.map((kind) => kind.value) as [EvidenceKind, ...EvidenceKind[]];
const MOST_FILES = 12;
const EDITABLE = statusesAllowing('submit');

export const addEvidenceSchema = z.object({
  runId: z.uuid(),
  kind: z.enum(kinds, { error: 'Unknown kind of photo. | Reviewers look for it by kind. | Choose one.' }),
  bytes: z.instanceof(Uint8Array),
  keepCaptureTime: z.boolean().default(false),
});

export interface AddedEvidence {
  evidenceId: string;
  thumbSha256: string;
}

/**
 * Adds a photo to a draft: decoded, turned upright, encoded anew without any metadata, and kept by its digest.
 * The time of capture is kept as a field only with consent. The same photo sent again, as a phone does when the answer
 * got lost, is the photo that is there already.
 */
export async function addEvidence(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<AddedEvidence> {
  const { runId, kind, bytes, keepCaptureTime } = parseInput(addEvidenceSchema, input);
  await requireEditable(registry, actor, runId);
  const accepted = await acceptImage(bytes);
  if (!accepted.ok) {
    if (accepted.reason === 'tooLarge' || accepted.reason === 'tooManyPixels')
      throw new TooLarge(accepted.message);
    throw new InvalidInput([
      {
        path: `evidence.${kind}`,
        what: 'This file is not a photo that can be used.',
        why: accepted.message,
        fix: 'Choose a JPEG, PNG or WebP photo.',
      },
    ]);
  }
  const sha256 = await registry.blobs.put(accepted.image.bytes);
  const thumbSha256 = await registry.blobs.put(accepted.thumbnail.bytes);
  const captureTime = keepCaptureTime ? accepted.captureTime : null;
  const capturedAt = captureInstant(captureTime);
  return registry.db.$transaction(async (tx) => {
    const at = registry.now();
    await requireLock(tx, runId);
    const known = await equalEvidence(tx, { runId, kind, sha256, capturedAt });
    if (known !== null) return { evidenceId: known.id, thumbSha256: known.thumbSha256 };
    if ((await evidenceOf(tx, runId)).length >= MOST_FILES) {
      throw new Conflict(`A run takes at most ${MOST_FILES} photos: remove one first.`);
    }
    const inserted = await insertEvidence(tx, {
      runId,
      uploadedById: actor?.accountId ?? '',
      kind,
      sha256,
      sourceSha256: createHash('sha256').update(bytes).digest('hex'),
      thumbSha256,
      mime: accepted.image.mediaType,
      widthPx: accepted.image.widthPx,
      heightPx: accepted.image.heightPx,
      sizeBytes: accepted.image.bytes.byteLength,
      capturedAt,
      capturedUtcOffsetMin: captureTime?.offsetMinutes ?? null,
      uploadedAt: at,
      pictureHash: accepted.hash,
      pictureBands: bandsOf(accepted.hash),
      isHashed: true,
    });
    await appendAudit(tx, {
      at,
      actorId: actor?.accountId,
      action: 'run.addEvidence',
      subjectKind: 'run',
      subjectId: runId,
      details: { kind, sha256 },
    });
    return { evidenceId: inserted.id, thumbSha256 };
  });
}

/** Takes a photo off a draft. The picture stays with the revisions that were submitted with it. */
export async function removeEvidence(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { runId, evidenceId } = parseInput(z.object({ runId: z.uuid(), evidenceId: z.uuid() }), input);
  await requireEditable(registry, actor, runId);
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    await requireLock(tx, runId);
    if (!(await removeEvidenceFile(tx, evidenceId, runId, at)))
      throw new NotFound('This photo is not on this run.');
    await appendAudit(tx, {
      at,
      actorId: actor?.accountId,
      action: 'run.removeEvidence',
      subjectKind: 'run',
      subjectId: runId,
      details: { evidenceId },
    });
  });
}

/** Whether this actor may change the photos of the run as it stands. */
export async function requireEditable(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<void> {
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  if (!EDITABLE.includes(run.status)) throw submittedAlready();
}

/** Asked again under the lock: decoding a photo takes long enough for the run to be submitted meanwhile. */
export async function requireLock(tx: Parameters<typeof lockRun>[0], runId: string): Promise<void> {
  if (!(await lockRun(tx, runId, EDITABLE))) throw submittedAlready();
}

function submittedAlready(): Conflict {
  return new Conflict('This run has been submitted: its photos can no longer be changed.');
}

/** Cameras that do not say their time zone are taken to be on UTC: the date and the order of photos still hold. */
function captureInstant(captureTime: CaptureTime | null): Date | null {
  if (captureTime === null) return null;
  const instantMs = Date.parse(`${captureTime.local}Z`) - (captureTime.offsetMinutes ?? 0) * 60_000;
  return Number.isFinite(instantMs) ? new Date(instantMs) : null;
}
