import { isSha256 } from '@/lib/files/blobStore';
import { bandsOf, pictureHash } from '@/lib/files/pictureHash';
import { enqueueJob } from '@/lib/store/jobs';
import { picturesWithoutHash, storePictureHash } from '@/lib/store/pictures';
import type { Registry } from '../registry';

/** Jobs of this kind make the hashes of photos that were sent before hashes were made. */
export const HASH_PICTURES_JOB = 'hashPictures';

const BATCH = 50;

/** Asks for the hashes where a photo has none. */
export async function requestPictureHashes(registry: Registry): Promise<boolean> {
  const [missing] = await picturesWithoutHash(registry.db, undefined, 1);
  if (missing === undefined) return false;
  await enqueueJob(registry.db, HASH_PICTURES_JOB, 'all', registry.now());
  return true;
}

/**
 * Makes the hashes of photos of earlier releases, once, from their thumbnails as an upload does. A picture that is gone
 * or cannot be read any more looks like nothing and is not asked for again. Broken off, it goes on where it was.
 */
export async function hashPictures(
  registry: Registry,
  report: (done: number) => void = () => undefined,
): Promise<number> {
  let done = 0;
  let last: string | undefined;
  for (;;) {
    const batch = await picturesWithoutHash(registry.db, last, BATCH);
    const hashes = await Promise.all(batch.map(({ thumbSha256 }) => hashOf(registry, thumbSha256)));
    await registry.db.$transaction(async (tx) => {
      for (const [place, { id }] of batch.entries()) {
        const hash = hashes[place] ?? null;
        await storePictureHash(tx, id, { pictureHash: hash, pictureBands: bandsOf(hash) });
      }
    });
    last = batch.at(-1)?.id;
    done += batch.length;
    report(done);
    if (batch.length < BATCH) return done;
  }
}

async function hashOf(registry: Registry, digest: string): Promise<bigint | null> {
  const bytes = isSha256(digest) ? await registry.blobs.get(digest) : null;
  return bytes === null ? null : pictureHash(bytes).catch(() => null);
}
