import type { Queryable } from './database';

export interface NewToken {
  hash: string;
  accountId: string;
  kind: 'email' | 'reset' | 'unsubscribe';
  /** The address that it proves. */
  email?: string;
  createdAt: Date;
  expiresAt: Date;
}

export async function insertToken(db: Queryable, token: NewToken): Promise<void> {
  await db.token.create({ data: token, select: { hash: true } });
}

/** Whose open token it is; null where it was used, is over or never was. */
export function openToken(db: Queryable, hash: string, kind: NewToken['kind'], at: Date) {
  return db.token.findFirst({
    where: { hash, kind, usedAt: null, expiresAt: { gt: at } },
    select: { accountId: true, email: true },
  });
}

/** True when this call used it up. */
export async function spendToken(db: Queryable, hash: string, at: Date): Promise<boolean> {
  const { count } = await db.token.updateMany({
    where: { hash, usedAt: null, expiresAt: { gt: at } },
    data: { usedAt: at },
  });
  return count === 1;
}

/** Whatever else of these kinds was handed out for an account works no more. */
export async function endTokens(
  db: Queryable,
  accountId: string,
  kinds: readonly NewToken['kind'][],
  at: Date,
): Promise<void> {
  await db.token.updateMany({
    where: { accountId, kind: { in: [...kinds] }, usedAt: null },
    data: { usedAt: at },
  });
}

export async function forgetTokens(db: Queryable, expiredBefore: Date): Promise<void> {
  await db.token.deleteMany({ where: { expiresAt: { lt: expiredBefore } } });
}
