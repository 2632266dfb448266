import type { Role } from '@/lib/run/roles';
import type { Queryable } from './database';
import { FACTOR_SETTING } from './settings';

export interface NewSignIn {
  key: string;
  accountId: string;
  device: string;
  at: Date;
}

export async function insertSignIn(db: Queryable, { at, ...signIn }: NewSignIn): Promise<void> {
  await db.signIn.create({ data: { ...signIn, createdAt: at, lastSeenAt: at }, select: { key: true } });
}

export interface OpenSignIn {
  accountId: string;
  role: Role;
  displayName: string;
  slug: string;
  world: string;
  sessionEpoch: number;
  display: unknown;
  createdAt: Date;
  lastSeenAt: Date;
  provedAt: Date;
  hasPassword: boolean;
  hasFactor: boolean;
  /** Whether this registry asks a second factor of those who decide. */
  isFactorAsked: boolean;
  /** Of the open suspension; null where there is none. */
  suspendedAt: Date | null;
  suspendedFor: string | null;
  isAppealed: boolean | null;
}

/** A sign-in that was not ended, with its account, in one statement: each request asks for it. */
export async function openSignIn(db: Queryable, key: string): Promise<OpenSignIn | undefined> {
  const [row] = await db.$queryRaw<OpenSignIn[]>`
    SELECT account."id"::text AS "accountId", account."role"::text AS "role", account."displayName", account."slug",
      account."world", account."sessionEpoch", account."display", "SignIn"."createdAt", "SignIn"."lastSeenAt",
      coalesce("SignIn"."provedAt", "SignIn"."createdAt") AS "provedAt",
      account."passwordHash" IS NOT NULL AS "hasPassword",
      EXISTS (SELECT 1 FROM "SecondFactor" factor
        WHERE factor."accountId" = account."id" AND factor."confirmedAt" IS NOT NULL) AS "hasFactor",
      EXISTS (SELECT 1 FROM "Setting"
        WHERE "Setting"."key" = ${FACTOR_SETTING} AND "Setting"."value" = 'true'::jsonb) AS "isFactorAsked",
      suspension."placedAt" AS "suspendedAt", suspension."reason" AS "suspendedFor",
      suspension."appeal" IS NOT NULL AS "isAppealed"
    FROM "SignIn" JOIN "Account" account ON account."id" = "SignIn"."accountId"
    LEFT JOIN "Suspension" suspension
      ON suspension."accountId" = account."id" AND suspension."liftedAt" IS NULL
    WHERE "SignIn"."key" = ${key} AND "SignIn"."endedAt" IS NULL AND account."erasedAt" IS NULL`;
  return row;
}

/** Unless another request wrote it a moment ago. */
export async function seeSignIn(db: Queryable, key: string, at: Date, staleFrom: Date): Promise<void> {
  await db.signIn.updateMany({
    where: { key, endedAt: null, lastSeenAt: { lte: staleFrom } },
    data: { lastSeenAt: at },
  });
}

/** True while the sign-in is open. */
export async function proveSignIn(db: Queryable, accountId: string, key: string, at: Date): Promise<boolean> {
  const { count } = await db.signIn.updateMany({
    where: { key, accountId, endedAt: null },
    data: { provedAt: at },
  });
  return count === 1;
}

/** Those of an account that were not ended, the last seen first. */
export function openSignInsOf(db: Queryable, accountId: string, take: number, skip = 0) {
  return db.signIn.findMany({
    where: { accountId, endedAt: null },
    orderBy: [{ lastSeenAt: 'desc' }, { key: 'asc' }],
    skip,
    take,
    select: { key: true, device: true, createdAt: true, lastSeenAt: true },
  });
}

/** How many of these were open until now; one of another account never is. */
export async function endSignIns(
  db: Queryable,
  accountId: string,
  keys: readonly string[],
  endedAt: Date,
): Promise<number> {
  const { count } = await db.signIn.updateMany({
    where: { accountId, key: { in: [...keys] }, endedAt: null },
    data: { endedAt },
  });
  return count;
}

export async function endAllSignIns(db: Queryable, accountId: string, endedAt: Date): Promise<void> {
  await db.signIn.updateMany({ where: { accountId, endedAt: null }, data: { endedAt } });
}

/** Forgets what nobody has used since. */
export async function forgetSignIns(db: Queryable, accountId: string, before: Date): Promise<void> {
  await db.signIn.deleteMany({ where: { accountId, lastSeenAt: { lt: before } } });
}
