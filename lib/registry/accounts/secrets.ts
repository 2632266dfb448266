import { createHash, randomBytes } from 'node:crypto';
import type { Queryable } from '@/lib/store/database';
import { endTokens, forgetTokens, insertToken } from '@/lib/store/tokens';

/** How long a mailed link works. Common practice, no source: letters are read within the day, a reset at once. */
const LASTS_MS = { email: 24 * 60 * 60 * 1000, reset: 60 * 60 * 1000 } as const;

/** Kept beyond its end, so that a late click is told apart from an invented one by whoever looks at the table. */
const KEPT_MS = 7 * 24 * 60 * 60 * 1000;

/** Letters lie about for long, and so long their link must work (RFC 8058 names no time). Own judgement. */
const UNSUBSCRIBE_LASTS_MS = 365 * 24 * 60 * 60 * 1000;

/** A secret has 256 bits of chance: a plain digest is enough. */
export function hashOfSecret(secret: string): string {
  return createHash('sha256').update(`mailed secret\n${secret}`).digest('base64url');
}

/** Makes the one secret of its kind that works for the account from now on, and gives it back: only its hash is kept. */
export async function newSecret(
  tx: Queryable,
  token: { accountId: string; kind: keyof typeof LASTS_MS; email?: string },
  at: Date,
): Promise<string> {
  const secret = randomBytes(32).toString('base64url');
  await endTokens(tx, token.accountId, [token.kind], at);
  await forgetTokens(tx, new Date(at.getTime() - KEPT_MS));
  const expiresAt = new Date(at.getTime() + LASTS_MS[token.kind]);
  await insertToken(tx, { ...token, hash: hashOfSecret(secret), createdAt: at, expiresAt });
  return secret;
}

/** One more link that ends letters: each letter has its own, and a newer one ends none. */
export async function newUnsubscribeSecret(tx: Queryable, accountId: string, at: Date): Promise<string> {
  const secret = randomBytes(32).toString('base64url');
  await forgetTokens(tx, new Date(at.getTime() - KEPT_MS));
  await insertToken(tx, {
    accountId,
    kind: 'unsubscribe',
    hash: hashOfSecret(secret),
    createdAt: at,
    expiresAt: new Date(at.getTime() + UNSUBSCRIBE_LASTS_MS),
  });
  return secret;
}
