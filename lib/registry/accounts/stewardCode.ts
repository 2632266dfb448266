import { createHash, randomInt, timingSafeEqual } from 'node:crypto';
import { countOwnAccounts, replaceStewardCode } from '@/lib/store/accounts';
import type { Registry } from '../registry';

/** No letters that are read as digits. */
const ALPHABET = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789';
const LENGTH = 12;

/**
 * On a registry without accounts but those of the demo world, whose steward is none for real people: makes a new one-time code (an unused older one stops working) and returns it to be
 * printed. Otherwise null. Only its hash is stored.
 */
export async function ensureStewardCode(registry: Registry): Promise<string | null> {
  if ((await countOwnAccounts(registry.db)) > 0) return null;
  const characters = Array.from({ length: LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)]);
  const code = characters.join('').replace(/(.{4})(?=.)/g, '$1-');
  await registry.db.$transaction((tx) => replaceStewardCode(tx, hashOf(code), registry.now()));
  return code;
}

export function codeMatches(code: string, codeHash: string): boolean {
  return timingSafeEqual(Buffer.from(hashOf(code), 'hex'), Buffer.from(codeHash, 'hex'));
}

/** A code has 59 bits of chance and lives for minutes: a plain digest is enough. */
function hashOf(code: string): string {
  return createHash('sha256')
    .update(code.toUpperCase().replace(/[^A-Z0-9]/g, ''))
    .digest('hex');
}
