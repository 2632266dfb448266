import { join } from 'node:path';
import type { BlobStore } from '@/lib/files/blobStore';
import { folderBlobStore } from '@/lib/files/folderBlobStore';
import { s3BlobStore } from '@/lib/files/s3BlobStore';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';

/**
 * Where photos and recordings are kept: an S3-compatible bucket when one is configured, otherwise a folder beside the
 * database. A bucket that is only half described is an error: files must not land in two places.
 */
export function blobStoreFromEnvironment(environment: NodeJS.ProcessEnv = process.env): BlobStore {
  const endpoint = environment.EVENLOOP_S3_ENDPOINT;
  const bucket = environment.EVENLOOP_S3_BUCKET;
  const accessKeyId = environment.EVENLOOP_S3_ACCESS_KEY_ID;
  const secretAccessKey = environment.EVENLOOP_S3_SECRET_ACCESS_KEY;
  const given = [endpoint, bucket, accessKeyId, secretAccessKey].filter(Boolean).length;
  if (given === 0) return folderBlobStore(join(dataFolderFromEnvironment(), 'blobs'));
  if (!endpoint || !bucket || !accessKeyId || !secretAccessKey) {
    throw new Error(
      'EVENLOOP_S3_ENDPOINT, EVENLOOP_S3_BUCKET, EVENLOOP_S3_ACCESS_KEY_ID and EVENLOOP_S3_SECRET_ACCESS_KEY go together: set all of them or none.',
    );
  }
  return s3BlobStore({
    endpoint,
    bucket,
    accessKeyId,
    secretAccessKey,
    region: environment.EVENLOOP_S3_REGION ?? 'us-east-1',
  });
}
