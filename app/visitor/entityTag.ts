import { createHash } from 'node:crypto';

/** A strong tag of what is answered (RFC 9110, 8.8.3): the same bytes, the same tag. */
export function entityTag(body: string): string {
  return `"${createHash('sha256').update(body).digest('base64url').slice(0, 27)}"`;
}

/** Whether whoever asks has it, by If-None-Match; compared weakly, as caches may have weakened it (RFC 9110, 13.1.2). */
export function isKnownTag(given: string | null, tag: string): boolean {
  if (given === null) return false;
  return given.trim() === '*' || given.split(',').some((one) => one.trim().replace(/^W\//, '') === tag);
}
