import type { Queryable } from './database';

export type NamedThing = 'person' | 'maker' | 'model' | 'loop' | 'level' | 'sharedLevel';

export interface Named {
  kind: NamedThing;
  /** Within what it has to be told apart. */
  scope: string;
  thingId: string;
  name: string;
}

/** Names of one kind are taken one after the other: two that look alike cannot both come to be at once. */
export async function lockNames(db: Queryable, kind: NamedThing): Promise<void> {
  await db.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`names of ${kind}`}, 0))`;
}

export async function hasNameKeys(db: Queryable, thingId: string): Promise<boolean> {
  return (await db.nameKey.findFirst({ where: { thingId }, select: { key: true } })) !== null;
}

/** Another thing that shares a key, if any; `otherwiseSpelt` leaves out those of the very same name. */
export function nameAlike(db: Queryable, named: Named, keys: readonly string[], otherwiseSpelt: boolean) {
  const { kind, scope, thingId, name } = named;
  return db.nameKey.findFirst({
    where: {
      kind,
      scope,
      key: { in: [...keys] },
      thingId: { not: thingId },
      ...(otherwiseSpelt ? { name: { not: name } } : {}),
    },
    select: { name: true },
  });
}

export async function insertNameKeys(db: Queryable, named: Named, keys: readonly string[]): Promise<void> {
  await db.nameKey.createMany({ data: keys.map((key) => ({ ...named, key })), skipDuplicates: true });
}

/** Before it takes another name, or where it is no thing of its own any more. */
export async function dropNameKeys(db: Queryable, thingId: string): Promise<void> {
  await db.nameKey.deleteMany({ where: { thingId } });
}

/** Names of an earlier release that have no keys yet, at most so many. */
export function namesWithoutKeys(db: Queryable, most: number): Promise<Named[]> {
  return db.$queryRaw<Named[]>`
    SELECT named."kind", named."scope", named."thingId"::text AS "thingId", named."name" FROM (
      SELECT 'person' AS "kind", "world" AS "scope", "id" AS "thingId", "displayName" AS "name"
        FROM "Account" WHERE "erasedAt" IS NULL
      UNION ALL SELECT 'maker', '', "id", "name" FROM "Maker"
      UNION ALL SELECT 'model', "makerId"::text || ' ' || "world", "id", "name" FROM "VehicleModel" WHERE "mergedIntoId" IS NULL
      UNION ALL SELECT 'loop', "world", "id", "name" FROM "Loop" WHERE "mergedIntoId" IS NULL
      UNION ALL SELECT 'level', "modelId"::text || ' ' || "factor", "id", "label" FROM "FactorLevel" WHERE "mergedIntoId" IS NULL
      UNION ALL SELECT 'sharedLevel', "world" || ' ' || "factor", "id", "words" FROM "SharedLevel"
    ) named
    WHERE NOT EXISTS (SELECT 1 FROM "NameKey" key WHERE key."thingId" = named."thingId")
    LIMIT ${most}`;
}
