/**
 * Where photos, traces and snapshots are kept: by the hash of their own bytes. A name that is the content's digest
 * makes storing the same file twice a no-op, makes a changed file evident, and can be published as a checksum.
 */
import { createHash } from 'node:crypto';

declare const sha256Brand: unique symbol;

/** SHA-256 (FIPS 180-4) as 64 lower-case hexadecimal digits. */
export type Sha256 = string & { readonly [sha256Brand]: true };

export interface BlobStore {
  /** Keeps the bytes and returns their digest; keeping what is already there changes nothing. */
  put(bytes: Uint8Array): Promise<Sha256>;
  /** The bytes, or null when there are none by that digest. Bytes that no longer match it are an error. */
  get(digest: Sha256): Promise<Uint8Array | null>;
  has(digest: Sha256): Promise<boolean>;
  /** For erasure at its owner's wish; removing what is not there changes nothing. */
  remove(digest: Sha256): Promise<void>;
  /**
   * Removes what was last put before an instant and is not among the named, and returns how much; undefined where the
   * store cannot do so without losing what is put meanwhile.
   */
  sweep?(before: Date, namedAmong: NamedAmong): Promise<number>;
}

export type NamedAmong = (digests: readonly Sha256[]) => Promise<ReadonlySet<string>>;

/** The medium returned other bytes than were stored. */
export class BlobDamaged extends Error {
  override name = 'BlobDamaged';
  constructor(readonly digest: Sha256) {
    super(`stored bytes no longer match their digest ${digest}`);
  }
}

/** The store answered in a way that leaves unknown whether the blob is kept. */
export class BlobStoreFailed extends Error {
  override name = 'BlobStoreFailed';
}

export function digestOf(bytes: Uint8Array): Sha256 {
  return createHash('sha256').update(bytes).digest('hex') as Sha256;
}

/** Guards every path and address built from a digest that came from outside. */
export function isSha256(text: string): text is Sha256 {
  return /^[0-9a-f]{64}$/.test(text);
}

/** Two-level fan-out keeps folders small: ab/cd/abcd…; 65 536 folders hold tens of millions of files in comfort. */
export function fanOutPath(digest: Sha256): string {
  if (!isSha256(digest)) throw new TypeError('not a SHA-256 digest');
  return `${digest.slice(0, 2)}/${digest.slice(2, 4)}/${digest}`;
}
