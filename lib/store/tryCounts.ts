import type { Queryable } from './database';

export interface Try {
  key: string;
  at: Date;
  /** Seconds to wait after the first try, the second and so on; the last holds for all beyond. */
  waitsS: readonly number[];
  /** A count whose last try is not after this begins anew. */
  forgottenFrom: Date;
}

/** Which one it is by number, or until when it has to wait. */
type Taken = { tries: number; until?: undefined } | { until: Date };

/**
 * Counts a try, unless one has to wait: then it gives back until when. One statement, and the row is held by it, so
 * that of tries sent all at once no more are taken than one after the other would be.
 */
export async function takeTry(db: Queryable, { key, at, waitsS, forgottenFrom }: Try): Promise<Taken> {
  const waits = [...waitsS];
  const taken = await db.$queryRaw<{ tries: number }[]>`
    INSERT INTO "TryCount" AS count ("key", "tries", "lastAt", "nextAt")
    VALUES (${key}, 1, ${at}, ${at}::timestamptz + make_interval(secs => (${waits}::int[])[1]))
    ON CONFLICT ("key") DO UPDATE SET
      "tries" = CASE WHEN count."lastAt" <= ${forgottenFrom} THEN 1 ELSE count."tries" + 1 END,
      "lastAt" = ${at},
      "nextAt" = ${at}::timestamptz + make_interval(secs => (${waits}::int[])[
        CASE WHEN count."lastAt" <= ${forgottenFrom} THEN 1
          ELSE least(count."tries" + 1, cardinality(${waits}::int[])) END])
    WHERE count."nextAt" <= ${at}
    RETURNING "tries"`;
  const [counted] = taken;
  if (counted !== undefined) return { tries: counted.tries };
  const row = await db.tryCount.findUnique({ where: { key }, select: { nextAt: true } });
  // Taken back a moment ago: the next try finds it free.
  return { until: row?.nextAt ?? at };
}

/** It did not fail: the try counts no more, those before it do. */
export async function takeBackTry(db: Queryable, key: string, at: Date): Promise<void> {
  await db.tryCount.updateMany({
    where: { key, tries: { gt: 0 } },
    data: { tries: { decrement: 1 }, nextAt: at },
  });
}

export async function clearTries(db: Queryable, keys: readonly string[]): Promise<void> {
  await db.tryCount.deleteMany({ where: { key: { in: [...keys] } } });
}

export async function forgetTries(db: Queryable, before: Date): Promise<void> {
  await db.tryCount.deleteMany({ where: { lastAt: { lte: before } } });
}
