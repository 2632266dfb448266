import { describe, expect, it } from 'vitest';
import { blobStoreFromEnvironment } from '@/lib/registry/blobStoreFromEnvironment';

describe('where blobs are kept', () => {
  const bucket = {
    EVENLOOP_S3_ENDPOINT: 'https://storage.example',
    EVENLOOP_S3_BUCKET: 'evenloop',
    EVENLOOP_S3_ACCESS_KEY_ID: 'key',
    EVENLOOP_S3_SECRET_ACCESS_KEY: 'secret',
  };

  it('is a bucket when all of it is described', () => {
    expect(() => blobStoreFromEnvironment({ NODE_ENV: 'test', ...bucket })).not.toThrow();
  });

  it.each(Object.keys(bucket))('is refused when only %s is missing', (name) => {
    expect(() => blobStoreFromEnvironment({ NODE_ENV: 'test', ...bucket, [name]: '' })).toThrow(
      /go together/,
    );
  });
});
