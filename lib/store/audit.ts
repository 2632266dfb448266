import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';

export interface AuditRecord {
  at: Date;
  actorId: string | undefined;
  action: string;
  subjectKind: string;
  subjectId: string;
  details?: Prisma.InputJsonObject;
}

/** Appends to the audit log; call it inside the transaction of the write that it tells of. */
export async function appendAudit(db: Queryable, record: AuditRecord): Promise<void> {
  await db.auditEntry.create({
    data: {
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

export function auditPage(
  db: Queryable,
  filter: { action?: string; actorId?: string; onlyWorld?: WorldKey | undefined },
  page: number,
  size: number,
) {
  const where: Prisma.AuditEntryWhereInput = {
    ...(filter.action ? { action: filter.action } : {}),
    ...(filter.actorId ? { actorId: filter.actorId } : {}),
    ...(filter.onlyWorld ? { actor: { world: filter.onlyWorld } } : {}),
  };
  return Promise.all([
    db.auditEntry.findMany({
      where,
      orderBy: { id: 'desc' },
      skip: (page - 1) * size,
      take: size,
      select: {
        id: true,
        at: true,
        action: true,
        subjectKind: true,
        subjectId: true,
        details: true,
        actor: { select: { displayName: true, slug: true } },
      },
    }),
    db.auditEntry.count({ where }),
    db.auditEntry.findMany({ distinct: ['action'], orderBy: { action: 'asc' }, select: { action: true } }),
  ]);
}

/** What happened to one thing, oldest first. */
export function auditTrailOf(db: Queryable, subjectKind: string, subjectId: string) {
  return db.auditEntry.findMany({
    where: { subjectKind, subjectId },
    orderBy: { id: 'asc' },
    select: {
      id: true,
      at: true,
      action: true,
      details: true,
      actor: { select: { displayName: true, slug: true } },
    },
  });
}
