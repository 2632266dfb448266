import type { AuditRecord } from './audit';
import type { Queryable } from './database';

/** Acts that may come by the thousand: the first of its kind is an entry, the others are counted. */

/**
 * Appends an act, or counts it where one is told under its key already. One statement, and so one short hold of the
 * counter's row: a flood queues there, and must not keep the connections of everybody else meanwhile.
 */
export async function appendOrCount(db: Queryable, key: string, record: AuditRecord): Promise<void> {
  const { at, actorId = null, action, subjectKind, subjectId } = record;
  const details = JSON.stringify(record.details ?? {});
  await db.$executeRaw`
    WITH counted AS (
      INSERT INTO "AuditRepeat" ("key", "since", "actorId", "action", "subjectKind", "subjectId", "details")
      VALUES (${key}, ${at}, ${actorId}::uuid, ${action}, ${subjectKind}, ${subjectId}, ${details}::jsonb)
      ON CONFLICT ("key") DO UPDATE SET "times" = "AuditRepeat"."times" + 1
      RETURNING "times", "since", "actorId", "action", "subjectKind", "subjectId", "details"
    )
    INSERT INTO "AuditEntry" ("at", "actorId", "action", "subjectKind", "subjectId", "details")
    SELECT "since", "actorId", "action", "subjectKind", "subjectId", "details" FROM counted WHERE "times" = 0`;
}

/** Takes away what was counted since before an instant, at most so many at once. */
export function takeRepeats(db: Queryable, before: Date, most: number) {
  return db.$queryRaw<
    {
      since: Date;
      times: number;
      actorId: string | null;
      action: string;
      subjectKind: string;
      subjectId: string;
      details: Record<string, string | number>;
    }[]
  >`
    DELETE FROM "AuditRepeat" WHERE "key" IN (
      SELECT "key" FROM "AuditRepeat" WHERE "since" < ${before} ORDER BY "since" LIMIT ${most} FOR UPDATE SKIP LOCKED)
    RETURNING "since", "times", "actorId"::text AS "actorId", "action", "subjectKind", "subjectId", "details"`;
}
