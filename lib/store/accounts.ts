import type { Role } from '@/lib/run/roles';
import type { WorldKey } from '@/lib/run/world';
import type { Preferences } from '@/lib/units/display';
import { Prisma } from '@/prisma/generated/client';
import { containing } from './containing';
import type { Queryable } from './database';
import { beyond, type Place, readingOrder } from './keyset';
import { NOT_SUSPENDED } from './suspensions';

export interface NewAccount {
  id?: string;
  email: string;
  /** Where somebody vouches for the address already. */
  emailVerifiedAt?: Date;
  displayName: string;
  slug: string;
  passwordHash: string | null;
  role: Role;
  world: WorldKey;
  createdAt: Date;
}

export function insertAccount(db: Queryable, account: NewAccount) {
  return db.account.create({ data: account, select: { id: true, slug: true } });
}

export function accountByEmail(db: Queryable, email: string) {
  return db.account.findUnique({
    where: { email },
    select: {
      id: true,
      displayName: true,
      role: true,
      passwordHash: true,
      sessionEpoch: true,
      secondFactor: { select: { confirmedAt: true } },
    },
  });
}

export function accountById(db: Queryable, id: string) {
  return db.account.findUnique({
    where: { id },
    select: {
      id: true,
      email: true,
      emailVerifiedAt: true,
      displayName: true,
      slug: true,
      role: true,
      passwordHash: true,
      sessionEpoch: true,
      display: true,
      world: true,
      erasedAt: true,
      createdAt: true,
    },
  });
}

/** What proving oneself asks for. */
export function accountByIdForProof(db: Queryable, id: string) {
  return db.account.findUnique({
    where: { id },
    select: { passwordHash: true, secondFactor: { select: { confirmedAt: true } } },
  });
}

/** The address is the account's and proved; false for an account that was erased. */
export async function proveEmail(db: Queryable, id: string, email: string, at: Date): Promise<boolean> {
  const { count } = await db.account.updateMany({
    where: { id, erasedAt: null },
    data: { email, emailVerifiedAt: at },
  });
  return count === 1;
}

export function accountBySlug(db: Queryable, slug: string) {
  return db.account.findUnique({
    where: { slug },
    select: { id: true, displayName: true, slug: true, world: true },
  });
}

/** Public names by id. */
export async function accountNames(db: Queryable, ids: readonly string[]): Promise<Map<string, string>> {
  const rows = await db.account.findMany({
    where: { id: { in: [...ids] } },
    select: { id: true, displayName: true },
  });
  return new Map(rows.map(({ id, displayName }) => [id, displayName]));
}

export async function isAccountSlugTaken(db: Queryable, slug: string): Promise<boolean> {
  return (await db.account.findUnique({ where: { slug }, select: { id: true } })) !== null;
}

export function countAccounts(db: Queryable): Promise<number> {
  return db.account.count();
}

/** Accounts of people, those of the demo world left out. */
export function countOwnAccounts(db: Queryable): Promise<number> {
  return db.account.count({ where: { world: 'record' } });
}

/** Stewards who answer for the record: those of the demo world have no say there, those suspended none for now. */
export function countOwnStewards(db: Queryable): Promise<number> {
  return db.account.count({
    where: { world: 'record', role: 'steward', erasedAt: null, suspensions: NOT_SUSPENDED },
  });
}

/** People who may decide on runs of the record, as far as they may just now. */
export function countOwnReviewers(db: Queryable): Promise<number> {
  return db.account.count({
    where: {
      world: 'record',
      role: { in: ['reviewer', 'steward'] },
      erasedAt: null,
      suspensions: NOT_SUSPENDED,
    },
  });
}

/** Writes what was chosen; with `onlyWhereNone` only where nothing was. True when it was written. */
export async function setAccountDisplay(
  db: Queryable,
  id: string,
  display: Preferences,
  { onlyWhereNone = false } = {},
): Promise<boolean> {
  const { count } = await db.account.updateMany({
    where: { id, ...(onlyWhereNone ? { display: { equals: Prisma.DbNull } } : {}) },
    data: { display },
  });
  return count === 1;
}

export async function setPasswordHash(db: Queryable, id: string, passwordHash: string): Promise<void> {
  await db.account.update({ where: { id }, data: { passwordHash }, select: { id: true } });
}

/** Invalidates every token issued so far. */
export async function raiseSessionEpoch(db: Queryable, id: string): Promise<number> {
  const account = await db.account.update({
    where: { id },
    data: { sessionEpoch: { increment: 1 } },
    select: { sessionEpoch: true },
  });
  return account.sessionEpoch;
}

export async function setAccountRole(db: Queryable, id: string, role: Role): Promise<void> {
  await db.account.update({ where: { id }, data: { role }, select: { id: true } });
}

/** The ids of all stewards who may act, whose rows are held until the end of the transaction. */
export async function lockStewards(db: Queryable): Promise<string[]> {
  const rows = await db.$queryRaw<{ id: string }[]>`
    SELECT "id"::text AS "id" FROM "Account" WHERE "role" = 'steward' ORDER BY "id" FOR UPDATE`;
  // Asked once the rows are held: a suspension that was waited for is seen.
  const where = { id: { in: rows.map(({ id }) => id) }, suspensions: NOT_SUSPENDED };
  return (await db.account.findMany({ where, select: { id: true } })).map(({ id }) => id);
}

export interface AccountFilter {
  /** In the name or the address. */
  text?: string | undefined;
  role?: Role | undefined;
  onlySuspended?: boolean | undefined;
  onlyWorld?: WorldKey | undefined;
}

function accountWhere({ text, role, onlySuspended, onlyWorld }: AccountFilter): Prisma.AccountWhereInput {
  const contains = text && containing(text);
  return {
    ...(onlyWorld ? { world: onlyWorld } : {}),
    ...(role ? { role } : {}),
    ...(onlySuspended ? { suspensions: { some: { liftedAt: null } } } : {}),
    ...(contains ? { OR: [{ displayName: contains }, { email: contains }] } : {}),
  };
}

export function countAccountsFound(db: Queryable, filter: AccountFilter): Promise<number> {
  return db.account.count({ where: accountWhere(filter) });
}

/** From a place on, by name. */
export function listAccounts(
  db: Queryable,
  filter: AccountFilter,
  place: Place<readonly [string, string]> | undefined,
  take: number,
) {
  const order = readingOrder(place, 'asc');
  return db.account.findMany({
    where: {
      ...accountWhere(filter),
      AND: beyond<Prisma.AccountWhereInput>(['displayName', 'id'], place, 'asc'),
    },
    orderBy: [{ displayName: order }, { id: order }],
    take,
    select: {
      id: true,
      displayName: true,
      slug: true,
      email: true,
      role: true,
      world: true,
      createdAt: true,
      emailVerifiedAt: true,
      vouchedAt: true,
      secondFactor: { select: { confirmedAt: true } },
      suspensions: {
        where: { liftedAt: null },
        take: 1,
        select: { reason: true, placedAt: true, appeal: true, appealedAt: true },
      },
      _count: { select: { runs: true, decisions: true } },
    },
  });
}

export function accountByExternalIdentity(db: Queryable, provider: string, providerAccountId: string) {
  return db.externalIdentity.findUnique({
    where: { provider_providerAccountId: { provider, providerAccountId } },
    select: { account: { select: { id: true, displayName: true, role: true, sessionEpoch: true } } },
  });
}

export async function insertExternalIdentity(
  db: Queryable,
  identity: { provider: string; providerAccountId: string; accountId: string },
): Promise<void> {
  await db.externalIdentity.create({ data: identity, select: { provider: true } });
}

export function openStewardCode(db: Queryable) {
  return db.stewardCode.findFirst({
    where: { usedAt: null },
    orderBy: { createdAt: 'desc' },
    select: { id: true, codeHash: true },
  });
}

export async function replaceStewardCode(db: Queryable, codeHash: string, createdAt: Date): Promise<void> {
  await db.stewardCode.deleteMany({ where: { usedAt: null } });
  await db.stewardCode.create({ data: { codeHash, createdAt }, select: { id: true } });
}

/** True when this call used it up; false when another did before. */
export async function spendStewardCode(db: Queryable, id: string, usedAt: Date): Promise<boolean> {
  const { count } = await db.stewardCode.updateMany({ where: { id, usedAt: null }, data: { usedAt } });
  return count === 1;
}
