import type { TrailEntry } from '@/lib/trail/entry';
import type { Seal } from '@/lib/trail/seal';
import type { Queryable } from './database';

/**
 * Up to which id the log is complete. Entries are committed in another order than their ids were drawn in: below the
 * latest id that can be seen, one may still be on its way. But each transaction has its number before it draws an id
 * (`next_audit_id()`), so whoever drew one that the sequence has passed was numbered before. Once every transaction of
 * those numbers has ended, each id up to there is an entry or will never be one. Both are asked for in this order, in
 * statements of their own: a snapshot taken first would miss who drew an id in between.
 */
export interface Cut {
  id: bigint;
  /** A number given after the sequence stood at the id. */
  transaction: bigint;
}

export async function cutNow(db: Queryable, past: bigint): Promise<Cut | undefined> {
  const [sequence] = await db.$queryRaw<{ id: bigint }[]>`
    SELECT CASE WHEN is_called THEN last_value ELSE last_value - 1 END AS "id" FROM "AuditEntry_id_seq"`;
  const id = sequence?.id ?? 0n;
  if (id <= past) return undefined;
  // A snapshot's end would not do: it is one past the latest number that has ENDED, and later ones may be running.
  const [numbers] = await db.$queryRaw<{ own: string }[]>`SELECT pg_current_xact_id()::text AS "own"`;
  return { id, transaction: BigInt(numbers?.own ?? 0) };
}

/** Whether every transaction that was numbered before the cut has ended, in any database of the server. */
export async function isComplete(db: Queryable, { transaction }: Cut): Promise<boolean> {
  const [numbers] = await db.$queryRaw<{ oldest: string }[]>`
    SELECT pg_snapshot_xmin(pg_current_snapshot())::text AS "oldest"`;
  return BigInt(numbers?.oldest ?? 0) >= transaction;
}

/** Any constant would do that is no other's in this database. */
const SEALING_LOCK = 8_372_004;

/** True while this transaction alone may seal. */
export async function mayAloneSeal(tx: Queryable): Promise<boolean> {
  const [row] = await tx.$queryRaw<{ mine: boolean }[]>`
    SELECT pg_try_advisory_xact_lock(${SEALING_LOCK}) AS "mine"`;
  return row?.mine === true;
}

/** Entries past an id and up to another, by id. */
export function entriesToSeal(
  db: Queryable,
  past: bigint,
  upTo: bigint,
  take: number,
): Promise<TrailEntry[]> {
  return db.auditEntry.findMany({
    where: { id: { gt: past, lte: upTo } },
    orderBy: { id: 'asc' },
    take,
    select: {
      id: true,
      at: true,
      writtenAt: true,
      actorId: true,
      action: true,
      subjectKind: true,
      subjectId: true,
      details: true,
      personalOf: true,
      commitments: true,
    },
  });
}

/** The database's own time: what entries say of when they were written is by the same clock. */
export async function databaseNow(db: Queryable): Promise<Date> {
  const [row] = await db.$queryRaw<
    { now: Date }[]
  >`SELECT date_trunc('milliseconds', clock_timestamp()) AS "now"`;
  if (row === undefined) throw new Error('the database did not tell its time');
  return row.now;
}

export async function insertSeal(tx: Queryable, seal: Seal, entries: number): Promise<void> {
  await tx.auditSeal.create({
    data: { ...seal, marks: new Uint8Array(seal.marks), entries },
    select: { number: true },
  });
}

const HEAD = {
  number: true,
  fromId: true,
  toId: true,
  entries: true,
  sealedAt: true,
  previousHash: true,
  hash: true,
  keyId: true,
  signature: true,
} as const;

/** The latest seal without its marks. */
export function latestHead(db: Queryable) {
  return db.auditSeal.findFirst({ orderBy: { number: 'desc' }, select: HEAD });
}

export function sealByNumber(db: Queryable, number: number): Promise<(Seal & { entries: number }) | null> {
  return db.auditSeal.findUnique({ where: { number }, select: { ...HEAD, marks: true } });
}

/** How many entries are past the latest seal. */
export async function countUnsealed(db: Queryable, past: bigint): Promise<number> {
  return db.auditEntry.count({ where: { id: { gt: past } } });
}
