import { createHash, randomInt } from 'node:crypto';

/** No letters that are read as digits. */
const ALPHABET = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789';
const LENGTH = 16;
const MANY = 10;

/** Codes to write down, each for one sign-in without the device. */
export function newRecoveryCodes(): string[] {
  return Array.from({ length: MANY }, () =>
    Array.from({ length: LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)])
      .join('')
      .replace(/(.{4})(?=.)/g, '$1-'),
  );
}

/** A code has 79 bits of chance: a plain digest is enough. However it is typed, letters and digits count. */
export function hashOfRecoveryCode(accountId: string, code: string): string {
  const plain = code.toUpperCase().replace(/[^A-Z0-9]/g, '');
  return createHash('sha256').update(`${accountId}\n${plain}`).digest('base64url');
}
