import { isSha256 } from '@/lib/files/blobStore';
import { forgetPhoto, isPictureKept, namedAmong, photosToSweep } from '@/lib/store/erasure';
import type { Registry } from '../registry';

/** Jobs of this kind remove files that nothing refers to any more. */
export const SWEEP_JOB = 'sweepFiles';

/** Somebody may still be looking at the form that it was taken off. */
const KEPT_MS = 24 * 60 * 60 * 1000;
const BATCH = 100;

/**
 * Photos taken off drafts: their files, unless another photo has the same, and then their rows. And files that no row
 * names, as when a transaction failed after its file was put: those that were put long enough ago, so that no row is on
 * its way any more.
 */
export async function sweepFiles(registry: Registry): Promise<number> {
  const before = new Date(registry.now().getTime() - KEPT_MS);
  const photos = await sweepPhotos(registry, before);
  const nameless = await registry.blobs.sweep?.(before, (digests) => namedAmong(registry.db, digests));
  return photos + (nameless ?? 0);
}

async function sweepPhotos(registry: Registry, before: Date): Promise<number> {
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
