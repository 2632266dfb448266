import { createHash, createHmac } from 'node:crypto';
import canonicalize from 'canonicalize';

/** An entry of the audit log as it is sealed. What is personal in it counts by its commitments alone. */
export interface TrailEntry {
  id: bigint;
  at: Date;
  /** By the database's clock; null for an entry from before entries were sealed. */
  writtenAt: Date | null;
  actorId: string | null;
  action: string;
  subjectKind: string;
  subjectId: string;
  details: unknown;
  personalOf: string | null;
  commitments: unknown;
}

/**
 * The canonical form of an entry, once for writers and verifiers: one array of JSON by the JSON Canonicalization Scheme
 * (RFC 8785: no white space, names sorted by UTF-16 code units, numbers as ECMAScript writes them). The id is text, as it
 * may pass 2⁵³; times are ISO 8601 in UTC with milliseconds; the first member names the form, so that a later form can
 * never be read as this one. An array, so that no field can pass for another and none can be left out unseen.
 */
export function canonicalEntry(entry: TrailEntry): string {
  return canonicalText([
    'evenloop audit entry, form 1',
    String(entry.id),
    entry.at.toISOString(),
    entry.writtenAt?.toISOString() ?? null,
    entry.actorId,
    entry.action,
    entry.subjectKind,
    entry.subjectId,
    entry.details,
    entry.personalOf,
    entry.commitments,
  ]);
}

/** SHA-256 (FIPS 180-4) of the canonical form in UTF-8. */
export function entryHash(entry: TrailEntry): Buffer {
  return createHash('sha256').update(canonicalEntry(entry), 'utf8').digest();
}

/**
 * What stands in the sealed form for personal details: HMAC-SHA256 (RFC 2104) of each field's name and value under the
 * account's salt. It binds to the value while the salt is there; without it, it says nothing of the value, however few
 * values there could be.
 */
export function commitmentsTo(
  personal: Readonly<Record<string, unknown>>,
  salt: Uint8Array,
): Record<string, string> {
  return Object.fromEntries(
    Object.entries(personal).map(([field, value]) => [
      field,
      createHmac('sha256', salt)
        .update(canonicalText([field, value]), 'utf8')
        .digest('hex'),
    ]),
  );
}

/** RFC 8785; throws on what is no JSON. */
export function canonicalText(value: unknown): string {
  const text = canonicalize(value);
  if (text === undefined) throw new TypeError('this value has no JSON');
  return text;
}
