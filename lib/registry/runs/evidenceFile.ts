import { may } from '@/lib/access/permissions';
import { isSha256 } from '@/lib/files/blobStore';
import { NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import { worldKey } from '@/lib/run/world';
import { evidenceByDigest } from '@/lib/store/evidence';
import type { Registry } from '../registry';

export interface StoredPicture {
  bytes: Uint8Array;
  mediaType: string;
}

/** How thumbnails are encoded; the media type of the full picture stands beside it in the record. */
const THUMBNAIL_TYPE = 'image/webp';

/**
 * A stored picture, for those who may see it: readers when its run is public and it belongs to the approved revision,
 * otherwise its tester and reviewers. To anyone else it does not exist.
 */
export async function evidenceFile(
  registry: Registry,
  actor: Actor | undefined,
  digest: string,
): Promise<StoredPicture> {
  const missing = new NotFound('This picture does not exist.');
  if (!isSha256(digest)) throw missing;
  const files = await evidenceByDigest(registry.db, digest);
  const visible = files.find((file) => {
    const isPublished =
      PUBLIC_RUN_STATUSES.includes(file.run.status) &&
      file.revisions.some(({ revision }) => revision.number === revision.run.approvedRevision);
    if (isPublished || actor?.accountId === file.run.testerId) return true;
    // A reviewer sees what was submitted, not what a tester is still trying out on a draft.
    return (
      file.revisions.length > 0 && may(actor, 'readPrivateRun', file.run.testerId, worldKey(file.run.world))
    );
  });
  if (visible === undefined) throw missing;
  const bytes = await registry.blobs.get(digest);
  if (bytes === null) throw missing;
  return { bytes, mediaType: digest === visible.sha256 ? visible.mime : THUMBNAIL_TYPE };
}
