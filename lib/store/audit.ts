import type { WorldKey } from '@/lib/run/world';
import { commitmentsTo } from '@/lib/trail/entry';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { beyondId, type Place, readingOrder } from './keyset';

export interface AuditRecord {
  at: Date;
  actorId: string | undefined;
  action: string;
  subjectKind: string;
  subjectId: string;
  /** Of no person in particular: it stays when an account is erased. */
  details?: Prisma.InputJsonObject;
  /** Of one person: the entry commits to it under their salt, and it goes when their account is erased. */
  personal?: { of: string; fields: Readonly<Record<string, string>> };
}

/** Appends to the audit log; call it inside the transaction of the write that it tells of. */
export async function appendAudit(db: Queryable, record: AuditRecord): Promise<void> {
  await db.auditEntry.create({
    data: {
      ...(await personalPart(db, record)),
      at: record.at,
      actorId: record.actorId ?? null,
      action: record.action,
      subjectKind: record.subjectKind,
      subjectId: record.subjectId,
      details: record.details ?? {},
    },
    select: { id: true },
  });
}

/** Nothing of an account that is erased already. */
async function personalPart(db: Queryable, { personal }: AuditRecord) {
  if (personal === undefined) return {};
  const account = await db.account.findUnique({ where: { id: personal.of }, select: { auditSalt: true } });
  if (!account?.auditSalt) return {};
  return {
    personal: personal.fields,
    personalOf: personal.of,
    commitments: commitmentsTo(personal.fields, account.auditSalt),
  };
}

/** Appends unless the same actor did the same to the same subject since `since`: for writes that come by the second. */
export async function appendAuditUnlessSince(db: Queryable, record: AuditRecord, since: Date): Promise<void> {
  const recent = await db.auditEntry.findFirst({
    where: {
      subjectKind: record.subjectKind,
      subjectId: record.subjectId,
      action: record.action,
      actorId: record.actorId ?? null,
      at: { gte: since },
    },
    select: { id: true },
  });
  if (recent === null) await appendAudit(db, record);
}

export interface AuditFilter {
  action?: string | undefined;
  /** Who did it, or whose account it was done to. */
  accountId?: string | undefined;
  runId?: string | undefined;
  onlyWorld?: WorldKey | undefined;
}

function auditWhere({ action, runId, onlyWorld }: AuditFilter): Prisma.AuditEntryWhereInput {
  return {
    ...(action ? { action } : {}),
    ...(runId ? { subjectKind: 'run', subjectId: runId } : {}),
    ...(onlyWorld ? { actor: { world: onlyWorld } } : {}),
  };
}

/** Each way in which an entry is of a person has an index of its own. */
function waysOfBeing(accountId: string | undefined): Prisma.AuditEntryWhereInput[] {
  if (accountId === undefined) return [{}];
  return [{ actorId: accountId }, { subjectKind: 'account', subjectId: accountId }];
}

/** Entries from a place on, the latest first. */
export async function auditEntries(
  db: Queryable,
  filter: AuditFilter,
  place: Place<bigint> | undefined,
  take: number,
) {
  const order = readingOrder(place, 'desc');
  const found = await Promise.all(
    waysOfBeing(filter.accountId).map((of) => entriesWhere(db, [auditWhere(filter), of], place, take)),
  );
  const byId = new Map(found.flat().map((entry) => [entry.id, entry]));
  return [...byId.values()]
    .sort((a, b) => Number(order === 'asc' ? a.id - b.id : b.id - a.id))
    .slice(0, take);
}

function entriesWhere(
  db: Queryable,
  where: Prisma.AuditEntryWhereInput[],
  place: Place<bigint> | undefined,
  take: number,
) {
  return db.auditEntry.findMany({
    where: { AND: where, ...beyondId(place, 'desc') },
    orderBy: { id: readingOrder(place, 'desc') },
    take,
    select: {
      id: true,
      at: true,
      action: true,
      subjectKind: true,
      subjectId: true,
      details: true,
      personal: true,
      actor: { select: { displayName: true, slug: true } },
    },
  });
}

export function countAuditEntries(db: Queryable, filter: AuditFilter): Promise<number> {
  const of = filter.accountId === undefined ? {} : { OR: waysOfBeing(filter.accountId) };
  return db.auditEntry.count({ where: { ...auditWhere(filter), ...of } });
}

/** The actions that occur: one step of the index for each, however many entries there are. */
export async function auditActions(db: Queryable): Promise<string[]> {
  const rows = await db.$queryRaw<{ action: string | null }[]>`
    WITH RECURSIVE actions AS (
      SELECT min("action") AS "action" FROM "AuditEntry"
      UNION ALL
      SELECT (SELECT min(entry."action") FROM "AuditEntry" entry WHERE entry."action" > actions."action")
      FROM actions WHERE actions."action" IS NOT NULL
    )
    SELECT "action" FROM actions WHERE "action" IS NOT NULL`;
  return rows.flatMap(({ action }) => action ?? []);
}

/** What happened to one thing from a place on, the latest first. */
export function auditTrailOf(
  db: Queryable,
  subject: { kind: string; id: string },
  place: Place<bigint> | undefined,
  take: number,
) {
  return db.auditEntry.findMany({
    where: { subjectKind: subject.kind, subjectId: subject.id, ...beyondId(place, 'desc') },
    orderBy: { id: readingOrder(place, 'desc') },
    take,
    select: { id: true, at: true, action: true, actor: { select: { displayName: true } } },
  });
}

export function countAuditTrail(db: Queryable, subject: { kind: string; id: string }): Promise<number> {
  return db.auditEntry.count({ where: { subjectKind: subject.kind, subjectId: subject.id } });
}
