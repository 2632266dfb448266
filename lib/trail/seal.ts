import { createHash, createPublicKey, type KeyObject, sign, verify } from 'node:crypto';
import { z } from 'zod';
import { canonicalText, entryHash, type TrailEntry } from './entry';

/** What a seal says of a batch of entries. */
export interface SealBody {
  /** 0, 1, 2 … without gaps; 0 covers what was there before entries were sealed. */
  number: number;
  /** The ids that it covers, both ends included: an entry among them that has no mark was put in later. */
  fromId: bigint;
  toId: bigint;
  sealedAt: Date;
  /** Hash of the seal before, in hexadecimal; 64 noughts at the first. */
  previousHash: string;
  marks: Uint8Array;
}

export interface Seal extends SealBody {
  hash: string;
  /** Which key signed it. */
  keyId: string;
  /** Ed25519 over the 32 bytes of the hash, base64. */
  signature: string;
}

export const NO_HASH = '0'.repeat(64);

/** 8 bytes of id, most significant first, and 32 of hash. */
const MARK_BYTES = 40;

/** One mark after the other, in the order of the ids. */
export function marksOf(entries: readonly TrailEntry[]): Buffer {
  const marks = Buffer.alloc(MARK_BYTES * entries.length);
  entries.forEach((entry, index) => {
    marks.writeBigInt64BE(entry.id, MARK_BYTES * index);
    entryHash(entry).copy(marks, MARK_BYTES * index + 8);
  });
  return marks;
}

export interface Mark {
  id: bigint;
  hash: Buffer;
}

export function countMarks(marks: Uint8Array): number {
  return Math.floor(marks.byteLength / MARK_BYTES);
}

export function markAt(marks: Uint8Array, index: number): Mark | undefined {
  if (index >= countMarks(marks)) return undefined;
  const bytes = Buffer.from(marks.buffer, marks.byteOffset + MARK_BYTES * index, MARK_BYTES);
  return { id: bytes.readBigInt64BE(0), hash: bytes.subarray(8) };
}

/** SHA-256 over the canonical form (RFC 8785) of all that a seal says; the marks stand in it by their own hash. */
export function sealHash({ number, fromId, toId, sealedAt, previousHash, marks }: SealBody): string {
  const form = [
    'evenloop audit seal, form 1',
    number,
    String(fromId),
    String(toId),
    sealedAt.toISOString(),
    previousHash,
    createHash('sha256').update(marks).digest('hex'),
  ];
  return createHash('sha256').update(canonicalText(form), 'utf8').digest('hex');
}

/** Ed25519 (RFC 8032) needs no chance at signing: the same seal has one signature. */
export function signedSeal(body: SealBody, privateKey: KeyObject): Seal {
  const hash = sealHash(body);
  return {
    ...body,
    hash,
    keyId: keyIdOf(createPublicKey(privateKey)),
    signature: sign(null, Buffer.from(hash, 'hex'), privateKey).toString('base64'),
  };
}

/** The first 16 hexadecimal digits of the SHA-256 of the public key (SubjectPublicKeyInfo, DER). */
export function keyIdOf(publicKey: KeyObject): string {
  const der = publicKey.export({ type: 'spki', format: 'der' });
  return createHash('sha256').update(der).digest('hex').slice(0, 16);
}

/** Whether a seal is what one of the keys signed. */
export function isGenuine(seal: Seal, publicKeys: readonly KeyObject[]): boolean {
  const key = publicKeys.find((candidate) => keyIdOf(candidate) === seal.keyId);
  return (
    key !== undefined &&
    sealHash(seal) === seal.hash &&
    verify(null, Buffer.from(seal.hash, 'hex'), key, Buffer.from(seal.signature, 'base64'))
  );
}

const lineSchema = z.object({
  number: z.int().min(0),
  fromId: z.string().regex(/^\d{1,19}$/),
  toId: z.string().regex(/^\d{1,19}$/),
  sealedAt: z.iso.datetime(),
  previousHash: z.string().regex(/^[0-9a-f]{64}$/),
  marks: z.base64(),
  hash: z.string().regex(/^[0-9a-f]{64}$/),
  keyId: z.string().max(64),
  signature: z.base64(),
});

/** A seal as a line of the file of heads. */
export function sealLine(seal: Seal): string {
  const { number, fromId, toId, sealedAt, previousHash, marks, hash, keyId, signature } = seal;
  return JSON.stringify({
    number,
    fromId: String(fromId),
    toId: String(toId),
    sealedAt: sealedAt.toISOString(),
    previousHash,
    hash,
    keyId,
    signature,
    marks: Buffer.from(marks).toString('base64'),
  });
}

/** Undefined where the line holds no seal. */
export function sealOfLine(line: string): Seal | undefined {
  const parsed = lineSchema.safeParse(jsonOf(line));
  if (!parsed.success) return undefined;
  const { fromId, toId, sealedAt, marks, ...seal } = parsed.data;
  return {
    ...seal,
    fromId: BigInt(fromId),
    toId: BigInt(toId),
    sealedAt: new Date(sealedAt),
    marks: Buffer.from(marks, 'base64'),
  };
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
