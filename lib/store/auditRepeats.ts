import type { AuditRecord } from './audit';
import type { Queryable } from './database';

/** Acts that may come by the thousand: the first of its kind is an entry, the others are counted. */

/** Counts an act under its key; true for the first, which the caller appends in the same transaction. */
export async function countRepeat(db: Queryable, key: string, record: AuditRecord): Promise<boolean> {
  const { at, actorId, action, subjectKind, subjectId, details = {} } = record;
  const [row] = await db.$queryRaw<{ times: number }[]>`
    INSERT INTO "AuditRepeat" ("key", "since", "actorId", "action", "subjectKind", "subjectId", "details")
    VALUES (${key}, ${at}, ${actorId ?? null}::uuid, ${action}, ${subjectKind}, ${subjectId},
      ${JSON.stringify(details)}::jsonb)
    ON CONFLICT ("key") DO UPDATE SET "times" = "AuditRepeat"."times" + 1
    RETURNING "times"`;
  return row?.times === 0;
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
