import { isSha256 } from '@/lib/files/blobStore';
import { forgetPhoto, isPictureKept, photosToSweep } from '@/lib/store/erasure';
import type { Registry } from '../registry';

/** Jobs of this kind remove files that nothing refers to any more. */
export const SWEEP_JOB = 'sweepFiles';

/** Somebody may still be looking at the form that it was taken off. */
const KEPT_MS = 24 * 60 * 60 * 1000;
const BATCH = 100;

/** Photos taken off drafts: their files, unless another photo has the same, and then their rows. */
export async function sweepFiles(registry: Registry): Promise<number> {
  const before = new Date(registry.now().getTime() - KEPT_MS);
  for (let swept = 0; ; ) {
    const batch = await photosToSweep(registry.db, before, BATCH);
    let taken = 0;
    for (const { id, sha256, thumbSha256 } of batch) {
      // The row first: a file without a row is waste, a row without its file a fault.
      if (!(await registry.db.$transaction((tx) => forgetPhoto(tx, id)))) continue;
      taken += 1;
      for (const digest of [sha256, thumbSha256])
        if (isSha256(digest) && !(await isPictureKept(registry.db, digest)))
          await registry.blobs.remove(digest);
    }
    swept += taken;
    if (batch.length < BATCH || taken === 0) return swept;
  }
}
