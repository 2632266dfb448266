import { createHash, randomBytes } from 'node:crypto';

/** What a token may do, in the order of the form, said as its owner reads it. A key is stored, so it never changes. */
export const TOKEN_SCOPES = [
  {
    key: 'runs:read',
    label: 'Read your own drafts and runs',
    hint: 'With your cars, what the rules found, and what reviewers said.',
  },
  { key: 'drafts:write', label: 'Begin and change drafts', hint: 'Nothing is sent in by it.' },
  {
    key: 'files:write',
    label: 'Put recordings and photos to drafts',
    hint: 'Photos lose their place and other hidden data, as on the page.',
  },
  { key: 'runs:submit', label: 'Send drafts in', hint: 'Reviewers then read them as runs of yours.' },
] as const;

export type TokenScope = (typeof TOKEN_SCOPES)[number]['key'];

export const SCOPE_KEYS = TOKEN_SCOPES.map(({ key }) => key) as [TokenScope, ...TokenScope[]];

export function scopeWords(key: string): string {
  return TOKEN_SCOPES.find((scope) => scope.key === key)?.label ?? key;
}

/** For how long one may be made: a program that is left running is looked after at least once a year. */
export const TOKEN_DAYS = [30, 90, 180, 365] as const;

/** That work at once for one account: one for each program and each place that it runs on, and some to spare. */
export const MOST_TOKENS = 10;

/**
 * How one looks, so that one that leaked into a published text is found by whoever searches for it:
 * a prefix that is ours, 43 digits of chance (256 bits), six that are computed from them.
 */
export const TOKEN_PATTERN = /^evenloop_[0-9A-Za-z]{49}$/;
const PREFIX = 'evenloop_';
const DIGITS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz';
const CHANCE_LENGTH = 43;
const CHECK_LENGTH = 6;

export function newToken(): string {
  const chance = inDigits(BigInt(`0x${randomBytes(32).toString('hex')}`), CHANCE_LENGTH);
  return `${PREFIX}${chance}${checkOf(chance)}`;
}

/** Whether this can be one at all: a mistyped or invented one costs no look into the table. */
export function isTokenText(text: string): boolean {
  if (!TOKEN_PATTERN.test(text)) return false;
  const digits = text.slice(PREFIX.length);
  return checkOf(digits.slice(0, CHANCE_LENGTH)) === digits.slice(CHANCE_LENGTH);
}

/** It has 256 bits of chance: a plain digest is enough. */
export function hashOfToken(text: string): string {
  return createHash('sha256').update(`personal token\n${text}`).digest('base64url');
}

function checkOf(chance: string): string {
  const digest = createHash('sha256').update(`${PREFIX}${chance}`).digest();
  return inDigits(BigInt(digest.readUInt32BE(0)), CHECK_LENGTH);
}

function inDigits(value: bigint, length: number): string {
  const base = BigInt(DIGITS.length);
  let rest = value;
  let text = '';
  for (let place = 0; place < length; place += 1) {
    text = `${DIGITS[Number(rest % base)]}${text}`;
    rest /= base;
  }
  return text;
}

/** The token of an Authorization header (RFC 6750, 2.1; RFC 9110, 11.6.2); undefined where it carries none. */
export function bearerOf(header: string | null): string | undefined {
  return /^Bearer +([\w.~+/-]+=*) *$/i.exec(header ?? '')?.[1];
}
