import { setTimeout as pause } from 'node:timers/promises';
import { BlobDamaged, type BlobStore, BlobStoreFailed, digestOf, fanOutPath, type Sha256 } from './blobStore';
import { type RequestToSign, type SigningKey, signRequest } from './signature';

export interface S3Options extends SigningKey {
  /** Such as https://storage.example.org; the bucket follows in the path, which every S3-compatible store takes. */
  readonly endpoint: string;
  readonly bucket: string;
  /** Put before every key, without slashes at its ends. */
  readonly prefix?: string;
  readonly timeoutMs?: number;
  readonly attempts?: number;
  /** Waits this long before the second attempt, twice as long before the third … */
  readonly firstPauseMs?: number;
  readonly now?: () => Date;
}

const nothing = digestOf(new Uint8Array());

/** Blobs as objects of a bucket, under the same two-level names as in a folder. */
export function s3BlobStore(options: S3Options): BlobStore {
  const { timeoutMs = 30_000, attempts = 3, firstPauseMs = 200, now = () => new Date() } = options;

  function addressOf(digest: Sha256): URL {
    const path = [options.bucket, options.prefix, fanOutPath(digest)].filter(
      (part) => part !== undefined && part !== '',
    );
    return new URL(`${options.endpoint.replace(/\/+$/, '')}/${path.join('/')}`);
  }

  /** One request with its answer read to the end; tried again where the store or the way to it failed. */
  async function ask(
    method: RequestToSign['method'],
    digest: Sha256,
    body?: Uint8Array,
  ): Promise<{ status: number; bytes: Uint8Array }> {
    const url = addressOf(digest);
    let failure = 'no answer';
    for (let attempt = 0; attempt < attempts; attempt++) {
      if (attempt > 0) await pause(firstPauseMs * 2 ** (attempt - 1));
      // Signed anew each time: a signature holds for minutes only.
      const headers = await signRequest(
        {
          method,
          url,
          headers: body === undefined ? {} : { 'content-type': 'application/octet-stream' },
          payloadHash: body === undefined ? nothing : digest,
          at: now(),
        },
        options,
      );
      try {
        const response = await fetch(url, {
          method,
          headers,
          body: body === undefined ? undefined : new Uint8Array(body),
          redirect: 'error',
          signal: AbortSignal.timeout(timeoutMs),
        });
        const bytes = new Uint8Array(await response.arrayBuffer());
        if (response.status < 500 && response.status !== 429) return { status: response.status, bytes };
        failure = `status ${response.status}`;
      } catch (error) {
        // The network's own errors (refused, reset, timed out); the last one is passed on below.
        failure = error instanceof Error ? error.message : 'network failure';
      }
    }
    throw new BlobStoreFailed(`${method} of ${digest} failed after ${attempts} attempts: ${failure}`);
  }

  function unexpected(method: string, digest: Sha256, status: number): BlobStoreFailed {
    const hint = status === 403 ? ' (check the keys, the region and the bucket)' : '';
    return new BlobStoreFailed(`${method} of ${digest} was answered with status ${status}${hint}`);
  }

  async function has(digest: Sha256): Promise<boolean> {
    const { status } = await ask('HEAD', digest);
    if (status === 200) return true;
    if (status === 404) return false;
    throw unexpected('HEAD', digest, status);
  }

  return {
    has,

    async put(bytes) {
      const digest = digestOf(bytes);
      if (await has(digest)) return digest;
      const { status } = await ask('PUT', digest, bytes);
      if (status !== 200 && status !== 201 && status !== 204) throw unexpected('PUT', digest, status);
      return digest;
    },

    async get(digest) {
      const { status, bytes } = await ask('GET', digest);
      if (status === 404) return null;
      if (status !== 200) throw unexpected('GET', digest, status);
      if (digestOf(bytes) !== digest) throw new BlobDamaged(digest);
      return bytes;
    },

    async remove(digest) {
      const { status } = await ask('DELETE', digest);
      if (status !== 204 && status !== 200 && status !== 404) throw unexpected('DELETE', digest, status);
    },
  };
}
