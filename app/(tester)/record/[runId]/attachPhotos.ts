import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { type AddedEvidence, addEvidence } from '@/lib/registry/runs/addEvidence';
import { PHOTO_FIELDS } from '@/lib/run/fields/table';
import type { Actor } from '@/lib/run/roles';

/** Keeps every photo that a posted form carries under `evidence.<kind>`; the first refusal is thrown. */
export async function attachPhotos(
  actor: Actor | undefined,
  runId: string,
  data: FormData,
): Promise<(AddedEvidence & { kind: string })[]> {
  const added: (AddedEvidence & { kind: string })[] = [];
  for (const { value: kind } of PHOTO_FIELDS) {
    for (const file of data.getAll(`evidence.${kind}`)) {
      if (typeof file === 'string' || file.size === 0) continue;
      await boundUse(registry(), actor, 'upload');
      const bytes = new Uint8Array(await file.arrayBuffer());
      const keepCaptureTime = data.get('keepCaptureTime') === 'yes';
      added.push({
        kind,
        ...(await addEvidence(registry(), actor, { runId, kind, bytes, keepCaptureTime })),
      });
    }
  }
  return added;
}
