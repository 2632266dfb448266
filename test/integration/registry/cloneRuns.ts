import type { Database } from '@/lib/store/database';

/**
 * Each counted run so many times more, on days before its own, one session a day and loop; numbers and the day's
 * normalised value move a little from clone to clone. What lists, figures and sums read is there, revisions are not.
 */
export async function cloneRuns(db: Database, times: number): Promise<void> {
  await db.$executeRaw`
    INSERT INTO "Session" ("id", "carId", "loopId", "localDate")
    SELECT gen_random_uuid(), session."carId", session."loopId", day."on"
    FROM "Session" session, generate_series(1, ${times}::int) step,
      LATERAL (SELECT session."localDate" - 10 * step AS "on") day
    ON CONFLICT DO NOTHING`;
  await db.$executeRaw`
    CREATE TEMPORARY TABLE clone AS
    SELECT gen_random_uuid() AS "id", counted."runId" AS "of", counted."methodVersion", step, session."id" AS "sessionId",
      session."localDate" AS "day"
    FROM "CountedRun" counted CROSS JOIN generate_series(1, ${times}::int) step
    JOIN "Session" session ON session."carId" = counted."carId" AND session."loopId" = counted."loopId"
      AND session."localDate" = counted."day" - 10 * step`;
  await db.$executeRaw`
    INSERT INTO "Run" ("id", "testerId", "status", "creationKey", "draft", "carId", "setupId", "loopId", "sessionId",
      "cruiseClassKey", "submittedAt", "decidedAt", "approvedRevision", "world")
    SELECT clone."id", run."testerId", run."status", clone."id"::text, run."draft", run."carId", run."setupId",
      run."loopId", clone."sessionId", run."cruiseClassKey", run."submittedAt", run."decidedAt",
      run."approvedRevision", run."world"
    FROM clone JOIN "Run" run ON run."id" = clone."of" ORDER BY clone.step, run."number"`;
  await db.$executeRaw`
    INSERT INTO "CountedRun" ("runId", "methodVersion", "world", "cruiseClassKey", "setupId", "modelId", "carId",
      "sessionId", "loopId", "testerId", "number", "day", "measuredWhPerKm", "z", "u", "uWhPerKm", "effectiveDof",
      "parts", "countedAt")
    SELECT clone."id", counted."methodVersion", counted."world", counted."cruiseClassKey", counted."setupId",
      counted."modelId", counted."carId", clone."sessionId", counted."loopId", counted."testerId", run."number",
      clone."day", counted."measuredWhPerKm", counted."z" + 0.01 * sin(clone.step), counted."u", counted."uWhPerKm",
      counted."effectiveDof", counted."parts", counted."countedAt"
    FROM clone
    JOIN "CountedRun" counted ON counted."runId" = clone."of" AND counted."methodVersion" = clone."methodVersion"
    JOIN "Run" run ON run."id" = clone."id"`;
  await db.$executeRaw`DROP TABLE clone`;
}
