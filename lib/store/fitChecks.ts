import type { RunPart } from '@/lib/reduction/runParts';
import { readParts } from '@/lib/reduction/stored';
import type { WorldKey } from '@/lib/run/world';
import type { IntervalsHold } from '@/lib/stats/holds/intervalsHold';
import type { OtherWays } from '@/lib/stats/otherWays/way';
import { asJson } from './asJson';
import type { Queryable } from './database';

/** What is asked of a published fit after it stands: whether its intervals hold, and its differences other ways. */

export interface CheckedRow {
  runId: string;
  number: number;
  setupId: string;
  modelId: string;
  carId: string;
  sessionId: string;
  loopId: string;
  testerId: string;
  measuredWhPerKm: number | null;
  z: number | null;
  u: number | null;
  /** Undefined where they cannot be read: the fit leaves such a run out. */
  parts: RunPart[] | undefined;
  approvedAt: Date;
  isRetrospective: boolean;
  traffic: string;
  /** Of the stored result: its adjustment steps. */
  steps: unknown;
}

const CURSOR_ROWS = 2000;

/** The counted runs of a class with their approval and what other ways of computing need, in batches by number. */
export async function* checkedRuns(
  db: Queryable,
  of: { world: WorldKey; cruiseClassKey: string; methodVersion: string },
): AsyncGenerator<CheckedRow> {
  let after = 0;
  for (;;) {
    const rows = await db.$queryRaw<CheckedRow[]>`
      SELECT counted."runId", counted."number", counted."setupId", counted."modelId", counted."carId",
        counted."sessionId", counted."loopId", counted."testerId", counted."measuredWhPerKm", counted."z",
        counted."u", counted."parts", coalesce(run."decidedAt", counted."countedAt") AS "approvedAt",
        revision."isRetrospective", conditions."traffic",
        result."result" #> '{normalisation,steps}' AS "steps"
      FROM "CountedRun" counted
      JOIN "Run" run ON run."id" = counted."runId"
      JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
      JOIN "Conditions" conditions ON conditions."revisionId" = revision."id"
      LEFT JOIN "Normalisation" result
        ON result."revisionId" = revision."id" AND result."methodVersion" = counted."methodVersion"
      WHERE counted."world" = ${of.world} AND counted."cruiseClassKey" = ${of.cruiseClassKey}
        AND counted."methodVersion" = ${of.methodVersion} AND counted."number" > ${after}
      ORDER BY counted."number"
      LIMIT ${CURSOR_ROWS}`;
    yield* rows.map((row) => ({ ...row, parts: readParts(row.parts) }));
    if (rows.length < CURSOR_ROWS) return;
    after = rows.at(-1)?.number ?? after;
  }
}

/** The differences of a fit that have an interval, up to a number. */
export async function differencesOfFit(db: Queryable, fitId: string, most: number) {
  const rows = await db.contrast.findMany({
    where: { fitId, lowLog: { not: null }, highLog: { not: null } },
    orderBy: [{ setupAId: 'asc' }, { setupBId: 'asc' }],
    take: most,
    select: { setupAId: true, setupBId: true, differenceLog: true, dof: true, lowLog: true, highLog: true },
  });
  return rows.map(({ setupAId, setupBId, differenceLog, dof, lowLog, highLog }) => ({
    a: setupAId,
    b: setupBId,
    difference: differenceLog,
    df: dof,
    interval95: lowLog === null || highLog === null ? null : ([lowLog, highLog] as [number, number]),
  }));
}

export interface NewFitCheck {
  fitId: string;
  computedAt: Date;
  durationMs: number;
  result: IntervalsHold;
  /** What each pair is other ways, for the column of details. */
  pairs: { a: string; b: string; otherWays: OtherWays }[];
}

const PAIRS_AT_ONCE = 500;

/** Writes what was found of a fit, unless another has taken its place meanwhile. */
export async function publishFitCheck(tx: Queryable, check: NewFitCheck): Promise<boolean> {
  const { pairs, fitId, result, ...rest } = check;
  const data = { ...rest, result: asJson(result) };
  const isCurrent = await tx.fit.findFirst({ where: { id: fitId, isCurrent: true }, select: { id: true } });
  if (isCurrent === null) return false;
  await tx.fitCheck.upsert({ where: { fitId }, create: { fitId, ...data }, update: data });
  for (let from = 0; from < pairs.length; from += PAIRS_AT_ONCE) {
    const batch = JSON.stringify(pairs.slice(from, from + PAIRS_AT_ONCE));
    await tx.$executeRaw`
      UPDATE "Contrast" contrast
      SET "details" = contrast."details" || jsonb_build_object('otherWays', found."otherWays")
      FROM jsonb_to_recordset(${batch}::jsonb) AS found("a" uuid, "b" uuid, "otherWays" jsonb)
      WHERE contrast."fitId" = ${fitId}::uuid AND contrast."setupAId" = found."a"
        AND contrast."setupBId" = found."b"`;
  }
  return true;
}

/** What the current fit of a group was found to be; null where nothing was asked of it yet. */
export async function fitCheckOf(db: Queryable, fitId: string) {
  return db.fitCheck.findUnique({ where: { fitId }, select: { computedAt: true, result: true } });
}

/** Names for the cars, testers and loops that a check speaks of; a car goes by the tester who keeps it. */
export async function namesOfChecked(
  db: Queryable,
  ids: { cars: string[]; testers: string[]; loops: string[] },
): Promise<Map<string, string>> {
  const [cars, testers, loops] = await Promise.all([
    db.car.findMany({
      where: { id: { in: ids.cars } },
      select: { id: true, owner: { select: { displayName: true } } },
    }),
    db.account.findMany({ where: { id: { in: ids.testers } }, select: { id: true, displayName: true } }),
    db.loop.findMany({ where: { id: { in: ids.loops } }, select: { id: true, name: true } }),
  ]);
  return new Map([
    ...cars.map(({ id, owner }) => [id, `a car of ${owner.displayName}`] as const),
    ...testers.map(({ id, displayName }) => [id, displayName] as const),
    ...loops.map(({ id, name }) => [id, name] as const),
  ]);
}
