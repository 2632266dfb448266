import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';

export interface ShownRangeRow {
  setupId: string;
  rangeStartM: number;
  chargeStart: number;
  chargeEnd: number;
  distanceM: number;
}

/** The latest runs of each setup that are asked for their displays' range. */
const MOST_OF_A_SETUP = 200;

/** What the displays of counted runs of these setups promised at the start, with what tells what the runs then gave. */
export function shownRanges(
  db: Queryable,
  {
    setupIds,
    cruiseClassKey,
    methodVersion,
    world,
  }: ShownLabel & { setupIds: readonly string[]; cruiseClassKey: string },
): Promise<ShownRangeRow[]> {
  return db.$queryRaw<ShownRangeRow[]>`
    SELECT asked."setupId", found.*
    FROM unnest(${[...setupIds]}::uuid[]) AS asked("setupId")
    CROSS JOIN LATERAL (
      SELECT shown."value" AS "rangeStartM", "first"."value" AS "chargeStart", "last"."value" AS "chargeEnd",
        trip."value" AS "distanceM"
      FROM "CountedRun" counted
      JOIN "Run" run ON run."id" = counted."runId"
      JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
      JOIN "Reading" shown ON shown."revisionId" = revision."id" AND shown."quantity" = 'rangeStart'
      JOIN "Reading" "first" ON "first"."revisionId" = revision."id" AND "first"."quantity" = 'chargeStart'
      JOIN "Reading" "last" ON "last"."revisionId" = revision."id" AND "last"."quantity" = 'chargeEnd'
      JOIN "Reading" trip ON trip."revisionId" = revision."id" AND trip."quantity" = 'tripDistance'
      WHERE counted."setupId" = asked."setupId" AND counted."methodVersion" = ${methodVersion}
        AND counted."world" = ${world} AND counted."cruiseClassKey" = ${cruiseClassKey}
      ORDER BY counted."number" DESC LIMIT ${MOST_OF_A_SETUP}
    ) found`;
}
