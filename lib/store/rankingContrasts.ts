import { readPairDetails } from '@/lib/stats/otherWays/stored';
import type { Queryable } from './database';
import type { StoredContrast } from './publicPages';

/** The contrasts of these pairs, in whichever direction each is stored: found by their keys, one a pair. */
export async function contrastsOfPairs(
  db: Queryable,
  fitId: string,
  pairs: readonly (readonly [one: string, other: string])[],
): Promise<StoredContrast[]> {
  if (pairs.length === 0) return [];
  const ones = pairs.flat();
  const others = pairs.flatMap(([one, other]) => [other, one]);
  const rows = await db.$queryRaw<(Omit<StoredContrast, 'restsOn' | 'otherWays'> & { details: unknown })[]>`
    SELECT contrast."setupAId", contrast."setupBId", "kind", "chainLength", "differenceLog", "logSe", "dof", "lowLog",
      "highLog", "simultaneousLowLog", "simultaneousHighLog", "modelLowLog", "modelHighLog", "word", "sharedULog",
      "reason", "details"
    FROM unnest(${ones}::uuid[], ${others}::uuid[]) asked("one", "other")
    JOIN "Contrast" contrast ON contrast."fitId" = ${fitId}::uuid
      AND contrast."setupAId" = asked."one" AND contrast."setupBId" = asked."other"`;
  return rows.map(({ details, ...row }) => ({ ...row, ...readPairDetails(details) }));
}

/** Pairs within each of these groups of setups that the fit cannot tell apart, both ways round: "one other". */
export async function undecidedWithin(
  db: Queryable,
  fitId: string,
  groups: readonly (readonly string[])[],
): Promise<Set<string>> {
  const setups = groups.flat();
  const places = groups.flatMap((group, place) => group.map(() => place));
  if (setups.length === 0) return new Set();
  const rows = await db.$queryRaw<{ a: string; b: string }[]>`
    WITH asked AS (SELECT * FROM unnest(${setups}::uuid[], ${places}::int[]) asked("setupId", "place"))
    SELECT contrast."setupAId" AS "a", contrast."setupBId" AS "b"
    FROM asked one JOIN asked other ON other."place" = one."place"
    JOIN "Contrast" contrast ON contrast."fitId" = ${fitId}::uuid
      AND contrast."setupAId" = one."setupId" AND contrast."setupBId" = other."setupId"
    WHERE contrast."word" = 'undecided'`;
  return new Set(rows.flatMap(({ a, b }) => [`${a} ${b}`, `${b} ${a}`]));
}
