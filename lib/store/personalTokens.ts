import type { Role } from '@/lib/run/roles';
import type { Queryable } from './database';

export interface NewPersonalToken {
  hash: string;
  accountId: string;
  name: string;
  scopes: string[];
  createdAt: Date;
  expiresAt: Date;
}

/** Holds the account's row, so that what is counted stays so; nothing where there is no such account. */
export async function lockAccount(db: Queryable, accountId: string): Promise<void> {
  await db.$queryRaw`SELECT 1 FROM "Account" WHERE "id" = ${accountId}::uuid FOR UPDATE`;
}

export function countPersonalTokens(db: Queryable, accountId: string, at: Date): Promise<number> {
  return db.token.count({ where: { accountId, kind: 'api', expiresAt: { gt: at } } });
}

export async function insertPersonalToken(db: Queryable, token: NewPersonalToken): Promise<void> {
  await db.token.create({ data: { ...token, kind: 'api' }, select: { hash: true } });
}

/** Those of an account, the latest first; one that is over stays listed for some days. */
export function personalTokensOf(db: Queryable, accountId: string, take: number) {
  return db.token.findMany({
    where: { accountId, kind: 'api' },
    orderBy: [{ createdAt: 'desc' }, { hash: 'asc' }],
    take,
    select: { hash: true, name: true, scopes: true, createdAt: true, expiresAt: true, usedAt: true },
  });
}

/** What it was called, where this call ended it; null where it is none of the account's. */
export async function endPersonalToken(db: Queryable, accountId: string, hash: string) {
  const [ended] = await db.token.findMany({
    where: { hash, accountId, kind: 'api' },
    take: 1,
    select: { name: true },
  });
  if (ended === undefined) return null;
  const { count } = await db.token.deleteMany({ where: { hash, accountId, kind: 'api' } });
  return count === 1 ? ended : null;
}

export async function endPersonalTokens(db: Queryable, accountId: string): Promise<void> {
  await db.token.deleteMany({ where: { accountId, kind: 'api' } });
}

export interface OpenToken {
  accountId: string;
  role: Role;
  world: string;
  name: string;
  scopes: string[];
  expiresAt: Date;
  usedAt: Date | null;
  /** Of the open suspension; null where there is none. */
  suspendedAt: Date | null;
  suspendedFor: string | null;
  isAppealed: boolean | null;
}

/** A token for programs with its account, in one statement: each request asks for it. */
export async function openPersonalToken(db: Queryable, hash: string): Promise<OpenToken | undefined> {
  const [row] = await db.$queryRaw<OpenToken[]>`
    SELECT account."id"::text AS "accountId", account."role"::text AS "role", account."world", "Token"."name", "Token"."scopes",
      "Token"."expiresAt", "Token"."usedAt", suspension."placedAt" AS "suspendedAt",
      suspension."reason" AS "suspendedFor", suspension."appeal" IS NOT NULL AS "isAppealed"
    FROM "Token" JOIN "Account" account ON account."id" = "Token"."accountId"
    LEFT JOIN "Suspension" suspension
      ON suspension."accountId" = account."id" AND suspension."liftedAt" IS NULL
    WHERE "Token"."hash" = ${hash} AND "Token"."kind" = 'api' AND account."erasedAt" IS NULL`;
  return row;
}

/** True where nobody had used it before. */
export async function noteFirstUse(db: Queryable, hash: string, at: Date): Promise<boolean> {
  const { count } = await db.token.updateMany({ where: { hash, usedAt: null }, data: { usedAt: at } });
  return count === 1;
}

/** Unless another request wrote it a moment ago. */
export async function noteLaterUse(db: Queryable, hash: string, at: Date, staleFrom: Date): Promise<void> {
  await db.token.updateMany({ where: { hash, usedAt: { lte: staleFrom } }, data: { usedAt: at } });
}
