import { isDeepStrictEqual } from 'node:util';
import { z } from 'zod';
import { fieldsOnPhoto } from '@/lib/capture/blindEntry';
import { InvalidInput, NotFound } from '@/lib/run/errors';
import { photoLabel } from '@/lib/run/fields/table';
import { parseInput } from '@/lib/run/parseInput';
import { photoMarksSchema } from '@/lib/run/photoMarks';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import { photoOnRun, storeMarks } from '@/lib/store/evidence';
import type { Registry } from '../registry';
import { requireEditable, requireLock } from './addEvidence';

const markEvidenceSchema = z.object({ runId: z.uuid(), evidenceId: z.uuid(), marks: photoMarksSchema });

/**
 * Says where on a photo of a draft its numbers are, in place of what was said before. Revisions that were sent with the
 * photo keep their own marks.
 */
export async function markEvidence(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { runId, evidenceId, marks } = parseInput(markEvidenceSchema, input);
  await requireEditable(registry, actor, runId);
  await registry.db.$transaction(async (tx) => {
    await requireLock(tx, runId);
    const photo = await photoOnRun(tx, evidenceId, runId);
    if (photo === null) throw new NotFound('This photo is not on this run.');
    const allowed = new Set<string>(fieldsOnPhoto(photo.kind).map(({ name }) => name));
    const other = marks.findIndex(({ field }) => !allowed.has(field));
    if (other >= 0) throw new InvalidInput([notOnThisPhoto(other, photo.kind)]);
    if (isDeepStrictEqual(photo.marks, marks)) return;
    if (!(await storeMarks(tx, evidenceId, runId, marks)))
      throw new NotFound('This photo is not on this run.');
    await appendAudit(tx, {
      at: registry.now(),
      actorId: actor?.accountId,
      action: 'run.markEvidence',
      subjectKind: 'run',
      subjectId: runId,
      details: { evidenceId, fields: marks.map(({ field }) => field) },
    });
  });
}

function notOnThisPhoto(index: number, kind: string) {
  return {
    path: `marks.${index}.field`,
    what: 'This reading is not on such a photo.',
    why: `“${photoLabel(kind)}” shows other readings.`,
    fix: 'Choose one of those offered, or add the photo under “Other”.',
  };
}
