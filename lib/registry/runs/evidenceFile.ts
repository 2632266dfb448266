import { may } from '@/lib/access/permissions';
import { isSha256 } from '@/lib/files/blobStore';
import { NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import { worldKey } from '@/lib/run/world';
import { evidenceByDigest } from '@/lib/store/evidence';
import { recordPrivateRead } from '../audit/recordAct';
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
  const visible = files.find((file) => isPublished(file) || isOpenTo(actor, file));
  if (visible === undefined) throw missing;
  const bytes = await registry.blobs.get(digest);
  if (bytes === null) throw missing;
  if (!isPublished(visible) && actor?.accountId !== visible.run.testerId)
    await recordPrivateRead(registry, actor, { kind: 'run', id: visible.run.id });
  return { bytes, mediaType: digest === visible.sha256 ? visible.mime : THUMBNAIL_TYPE };
}

type EvidenceRow = Awaited<ReturnType<typeof evidenceByDigest>>[number];

function isPublished({ run, revisions }: EvidenceRow): boolean {
  return (
    PUBLIC_RUN_STATUSES.includes(run.status) &&
    revisions.some(({ revision }) => revision.number === revision.run.approvedRevision)
  );
}

/** A reviewer sees what was submitted, not what a tester is still trying out on a draft. */
function isOpenTo(actor: Actor | undefined, { run, revisions }: EvidenceRow): boolean {
  if (actor?.accountId === run.testerId) return true;
  return revisions.length > 0 && may(actor, 'readPrivateRun', run.testerId, worldKey(run.world));
}
