import pg from 'pg';
import { TELLING_WHEN } from '@/lib/run/publishedDay';
import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import type { WorldKey } from '@/lib/run/world';
import { fetchedRows } from './fetchedRows';

/**
 * What a snapshot is made from, table by table, through cursors of one transaction: as many rows as there are, in the
 * memory of a few hundred. Names of columns are those of the snapshot wherever a row needs no more than that.
 */

/** Rows at once where each holds the whole inputs or the whole result of a run. */
const FEW = 100;

const time = (column: string) => `to_char(${column} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;
/** Of a run with no more than its month published: the beginning of the month of whatever happened to it. */
const told = (column: string) =>
  time(`CASE WHEN public."monthOnly"
    THEN date_trunc('month', ${column} AT TIME ZONE 'UTC') AT TIME ZONE 'UTC' ELSE ${column} END`);
/** A name that tells when it was made stands under another one then (`withoutTime`). */
const named = (column: string, isHidden = 'public."monthOnly"') =>
  `CASE WHEN ${isHidden} THEN md5(${column}::text)::uuid ELSE ${column} END`;
const TELLS_WHEN = `ARRAY[${TELLING_WHEN.map((id) => pg.escapeLiteral(id)).join(', ')}]`;
/** Where any run of its day is such a one. */
const SESSION_HIDDEN = `EXISTS (SELECT 1 FROM "Run" same WHERE same."sessionId" = public."sessionId" AND same."monthOnly")`;
const textOrder = (column: string) => `${column} COLLATE "C"`;

/** Everything that was ever published, at the revision that counts or was sent in last. */
const publicRuns = (world: WorldKey) => `
  SELECT run.*, revision."id" AS "revisionId", revision."number" AS "revisionNumber",
    revision."startedAt" AS "revisionStartedAt", revision."utcOffsetMin", revision."isRetrospective",
    revision."protocolVersionId", revision."submittedAt" AS "revisionSubmittedAt"
  FROM "Run" run
  JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = coalesce(run."approvedRevision",
    (SELECT max(latest."number") FROM "RunRevision" latest WHERE latest."runId" = run."id"))
  WHERE run."world" = ${pg.escapeLiteral(world)} AND run."setupId" IS NOT NULL AND run."sessionId" IS NOT NULL
    AND run."status" IN (${PUBLIC_RUN_STATUSES.map((status) => pg.escapeLiteral(status)).join(', ')})`;

const studiesOf = (world: WorldKey) => `SELECT * FROM "Study" WHERE "world" = ${pg.escapeLiteral(world)}`;

const setupsOf = (world: WorldKey) => `
  SELECT * FROM "Setup" WHERE "id" IN (SELECT "setupId" FROM (${publicRuns(world)}) "public")`;

const loopsOf = (world: WorldKey) => `
  SELECT * FROM "Loop" WHERE "id" IN (
    SELECT "loopId" FROM (${publicRuns(world)}) "public" UNION SELECT "loopId" FROM (${studiesOf(world)}) study)`;

const currentFits = (world: WorldKey) => `
  SELECT fit.*, "group"."cruiseClassKey" FROM "Fit" fit JOIN "ComparisonGroup" "group" ON "group"."id" = fit."groupId"
  WHERE fit."isCurrent" AND "group"."world" = ${pg.escapeLiteral(world)}`;

export type PlainRow = Record<string, unknown>;

/** Tables whose rows are ready as they come. */
const PLAIN = new Map<string, (world: WorldKey) => string>([
  [
    'protocol_versions',
    () => `SELECT "label" AS "protocol_version", "status", ${time('"adoptedAt"')} AS "adopted_at",
      ${time('"retiredAt"')} AS "retired_at", "parameters"
      FROM "ProtocolVersion" WHERE "status" <> 'draft' ORDER BY ${textOrder('"label"')}`,
  ],
  [
    'models',
    (world) => `SELECT "id" AS "model_id", "modelYear" AS "model_year", "bodyClass" AS "body_class",
      "kerbMassKg" AS "kerb_mass_kg", "usableCapacityWh" AS "usable_capacity_wh", "dragAreaM2" AS "drag_area_m2",
      "hasHeatPump" AS "has_heat_pump" FROM "VehicleModel"
      WHERE "id" IN (SELECT "modelId" FROM (${setupsOf(world)}) setup
        UNION SELECT "modelId" FROM (${studiesOf(world)}) study) ORDER BY "id"`,
  ],
  [
    'setups',
    (world) =>
      `SELECT "id" AS "setup_id", "modelId" AS "model_id" FROM (${setupsOf(world)}) setup ORDER BY "id"`,
  ],
  [
    'setup_levels',
    (world) => `SELECT setup."id" AS "setup_id", named."factor", level."id" AS "level_id",
      level."isBaseline" AS "is_baseline", level."tyreKind" AS "tyre_kind", shared."key" AS "shared_level"
      FROM (${setupsOf(world)}) setup JOIN "SetupLevel" named ON named."setupId" = setup."id"
      JOIN "FactorLevel" level ON level."id" = named."levelId"
      LEFT JOIN "SharedLevel" shared ON shared."id" = level."sharedLevelId"
      ORDER BY setup."id", ${textOrder('named."factor"')}`,
  ],
  [
    'loops',
    (
      world,
    ) => `SELECT "id" AS "loop_id", "lengthM" AS "length_m", "lengthUncertaintyM" AS "length_uncertainty_m",
      "altitudeM" AS "altitude_m", "netClimbM" AS "net_climb_m", "grossClimbM" AS "gross_climb_m",
      "closureDistanceM" AS "closure_distance_m", "closureHeightM" AS "closure_height_m",
      "sharedRouteShare" AS "shared_route_share", "offCruiseShare" AS "off_cruise_share",
      "postedLimitMps" AS "posted_limit_mps", "bearings" FROM (${loopsOf(world)}) loop ORDER BY "id"`,
  ],
  [
    'loop_legs',
    (world) => `SELECT leg."loopId" AS "loop_id", leg."direction", leg."lengthM" AS "length_m",
      leg."netClimbM" AS "net_climb_m", leg."bearings" FROM "LoopLeg" leg
      WHERE leg."loopId" IN (SELECT "id" FROM (${loopsOf(world)}) loop)
      ORDER BY leg."loopId", ${textOrder('leg."direction"')}`,
  ],
  [
    'merges',
    (world) => {
      const of = (kind: string, table: string) =>
        `SELECT '${kind}' AS "kind", "id", "mergedIntoId" AS "into_id" FROM "${table}"
         WHERE "mergedIntoId" IS NOT NULL AND "world" = ${pg.escapeLiteral(world)}`;
      const all = [of('car', 'Car'), of('loop', 'Loop'), of('model', 'VehicleModel'), of('setup', 'Setup')];
      return `SELECT * FROM (${all.join(' UNION ALL ')}) merged ORDER BY ${textOrder('"kind"')}, "id"`;
    },
  ],
  [
    'runs',
    (world) => `SELECT public."number" AS "run", ${named('public."id"')} AS "run_id", public."status",
      EXISTS (SELECT 1 FROM "CountedRun" counted JOIN "CountedLabel" label ON label."world" = counted."world"
        AND label."methodVersion" = counted."methodVersion" WHERE counted."runId" = public."id") AS "counts",
      public."revisionNumber" AS "revision", public."testerId" AS "tester_id", public."carId" AS "car_id",
      public."setupId" AS "setup_id", setup."modelId" AS "model_id", public."loopId" AS "loop_id",
      ${named('public."sessionId"', SESSION_HIDDEN)} AS "session_id", public."cruiseClassKey" AS "cruise_class",
      to_char(CASE WHEN public."monthOnly" THEN public."publishedDay" ELSE session."localDate" END, 'YYYY-MM-DD')
        AS "local_date", public."monthOnly" AS "month_only",
      ${time(`CASE WHEN public."monthOnly" THEN (public."publishedDay"::timestamp
        - make_interval(mins => public."utcOffsetMin")) AT TIME ZONE 'UTC' ELSE public."revisionStartedAt" END`)}
        AS "started_at",
      public."utcOffsetMin" AS "utc_offset_min", public."isRetrospective" AS "is_retrospective",
      protocol."label" AS "protocol_version", ${told('public."revisionSubmittedAt"')} AS "submitted_at",
      ${told('public."decidedAt"')} AS "decided_at"
      FROM (${publicRuns(world)}) public JOIN "Setup" setup ON setup."id" = public."setupId"
      JOIN "Session" session ON session."id" = public."sessionId"
      JOIN "ProtocolVersion" protocol ON protocol."id" = public."protocolVersionId" ORDER BY public."number"`,
  ],
  [
    'findings',
    (
      world,
    ) => `SELECT public."number" AS "run", protocol."label" AS "protocol_version", finding."ruleId" AS "rule",
      finding."outcome", CASE WHEN public."monthOnly" AND finding."ruleId" = ANY(${TELLS_WHEN}) THEN '[]'::jsonb
        ELSE finding."numbers" END AS "numbers" FROM (${publicRuns(world)}) public
      JOIN "Finding" finding ON finding."revisionId" = public."revisionId"
      JOIN "ProtocolVersion" protocol ON protocol."id" = finding."protocolVersionId"
      ORDER BY public."number", ${textOrder('protocol."label"')}, ${textOrder('finding."ruleId"')}`,
  ],
  [
    'decisions',
    (world) => `SELECT public."number" AS "run", revision."number" AS "revision", decision."round",
      decision."reviewerId" AS "reviewer_id", decision."kind" AS "decision", ${told('decision."decidedAt"')} AS "decided_at",
      to_jsonb(decision."secondFor") AS "second_for",
      coalesce((SELECT jsonb_agg(reason."ruleId" ORDER BY ${textOrder('reason."ruleId"')}) FROM "DecisionReason" reason
        WHERE reason."decisionId" = decision."id"), '[]') AS "rules"
      FROM (${publicRuns(world)}) public JOIN "RunRevision" revision ON revision."runId" = public."id"
      JOIN "Decision" decision ON decision."revisionId" = revision."id"
      ORDER BY public."number", revision."number", decision."round", decision."reviewerId"`,
  ],
  [
    'studies',
    (world) => `SELECT "id" AS "study_id", "state", "ownerId" AS "owner_id", "modelId" AS "model_id",
      "loopId" AS "loop_id", "cruiseClassKey" AS "cruise_class", ${time('"createdAt"')} AS "created_at",
      ${time('"beganAt"')} AS "began_at", ${time('"endedAt"')} AS "ended_at"
      FROM (${studiesOf(world)}) study ORDER BY "id"`,
  ],
  [
    'study_plans',
    // the question is a free text
    (world) => `SELECT version."studyId" AS "study_id", version."number" AS "plan_version",
      ${time('version."madeAt"')} AS "made_at", version."plan" - 'question' AS "plan" FROM "StudyVersion" version
      WHERE version."studyId" IN (SELECT "id" FROM (${studiesOf(world)}) study)
      ORDER BY version."studyId", version."number"`,
  ],
  [
    'study_runs',
    (
      world,
    ) => `SELECT public."number" AS "run", added."studyId" AS "study_id", added."version" AS "plan_version",
      added."wasChosen" AS "was_chosen", ${told('added."addedAt"')} AS "added_at"
      FROM (${publicRuns(world)}) public JOIN "StudyRun" added ON added."runId" = public."id"
      WHERE added."studyId" IN (SELECT "id" FROM (${studiesOf(world)}) study) ORDER BY public."number"`,
  ],
]);

/** The rows of a table that needs no more; undefined for the others. */
export function plainRows(
  client: pg.ClientBase,
  table: string,
  world: WorldKey,
): AsyncGenerator<PlainRow> | undefined {
  const sql = PLAIN.get(table);
  return sql && fetchedRows<PlainRow>(client, `open_${table}`, sql(world));
}

export interface KeptInputs {
  run: number;
  monthOnly: boolean;
  snapshot: unknown;
  origin: string;
}

/** What each run's numbers were made from, by number; runs without it are left out. */
export function keptInputs(client: pg.ClientBase, world: WorldKey): AsyncGenerator<KeptInputs> {
  return fetchedRows(
    client,
    'open_inputs',
    `SELECT public."number" AS "run", public."monthOnly", inputs."snapshot", inputs."origin" FROM (${publicRuns(world)}) public
     JOIN "RevisionInputs" inputs ON inputs."revisionId" = public."revisionId" ORDER BY public."number"`,
    FEW,
  );
}

export interface KeptResult {
  run: number;
  result: unknown;
  /** Null for a run that does not count. */
  parts: unknown;
  /** Of its day, where that stands under another name. */
  hiddenSessionId: string | null;
}

/** Results under a version, by the runs' numbers. */
export function keptResults(
  client: pg.ClientBase,
  world: WorldKey,
  methodVersion: string,
): AsyncGenerator<KeptResult> {
  const version = pg.escapeLiteral(methodVersion);
  return fetchedRows(
    client,
    'open_results',
    `SELECT public."number" AS "run", result."result", counted."parts",
       CASE WHEN ${SESSION_HIDDEN} THEN public."sessionId"::text END AS "hiddenSessionId" FROM (${publicRuns(world)}) public
     JOIN "Normalisation" result ON result."revisionId" = public."revisionId" AND result."methodVersion" = ${version}
     LEFT JOIN "CountedRun" counted ON counted."runId" = public."id" AND counted."methodVersion" = ${version}
     ORDER BY public."number"`,
    FEW,
  );
}

export interface KeptFit {
  cruiseClassKey: string;
  methodVersion: string;
  fittedAt: string;
  summary: unknown;
  basis: unknown;
}

/** The current fits of a world; there is one a class at most. */
export async function keptFits(client: pg.ClientBase, world: WorldKey): Promise<KeptFit[]> {
  const { rows } = await client.query<KeptFit>(
    `SELECT "cruiseClassKey", "methodVersion", ${time('"fittedAt"')} AS "fittedAt", "summary", "basis"
     FROM (${currentFits(world)}) fit ORDER BY ${textOrder('"cruiseClassKey"')}`,
  );
  return rows;
}

export interface KeptOfFit {
  cruiseClassKey: string;
  [column: string]: unknown;
}

export function keptEstimates(client: pg.ClientBase, world: WorldKey): AsyncGenerator<KeptOfFit> {
  return fetchedRows(
    client,
    'open_estimates',
    `SELECT fit."cruiseClassKey", estimate.* FROM (${currentFits(world)}) fit
     JOIN "Estimate" estimate ON estimate."fitId" = fit."id"
     ORDER BY ${textOrder('fit."cruiseClassKey"')}, estimate."setupId"`,
  );
}

export function keptContrasts(client: pg.ClientBase, world: WorldKey): AsyncGenerator<KeptOfFit> {
  return fetchedRows(
    client,
    'open_contrasts',
    `SELECT fit."cruiseClassKey", contrast.* FROM (${currentFits(world)}) fit
     JOIN "Contrast" contrast ON contrast."fitId" = fit."id"
     ORDER BY ${textOrder('fit."cruiseClassKey"')}, contrast."setupAId", contrast."setupBId"`,
  );
}

/** How many runs of each class count under a version, for classes that have any. */
export async function countedByClass(
  client: pg.ClientBase,
  world: WorldKey,
  methodVersion: string,
): Promise<Map<string, number>> {
  const { rows } = await client.query<{ key: string; runs: number }>(
    `SELECT "cruiseClassKey" AS "key", count(*)::int AS "runs" FROM "CountedRun"
     WHERE "world" = $1 AND "methodVersion" = $2 GROUP BY 1`,
    [world, methodVersion],
  );
  return new Map(rows.map(({ key, runs }) => [key, runs]));
}

/** Whether work waits or runs that would change what is published of a world. */
export async function isBeingComputed(client: pg.ClientBase, world: WorldKey): Promise<boolean> {
  const { rows } = await client.query(
    `SELECT 1 FROM "Job" WHERE "state" IN ('queued', 'running')
       AND ("kind" = 'renormalise' OR ("kind" = 'refit' AND "key" LIKE $1 || '/%')) LIMIT 1`,
    [world],
  );
  return rows.length > 0;
}

/** The method version whose counted runs a world shows; undefined where none counts yet. */
export async function shownVersion(client: pg.ClientBase, world: WorldKey): Promise<string | undefined> {
  const { rows } = await client.query<{ methodVersion: string }>(
    'SELECT "methodVersion" FROM "CountedLabel" WHERE "world" = $1',
    [world],
  );
  return rows[0]?.methodVersion;
}

/** When the last entry of the log was written that tells of the record, and not of snapshots or backups of it. */
export async function lastEntryAt(client: pg.ClientBase): Promise<string | undefined> {
  const { rows } = await client.query<{ at: string }>(
    `SELECT ${time('"at"')} AS "at" FROM "AuditEntry"
     WHERE "action" NOT IN ('snapshot.publish', 'registry.backUp') ORDER BY "id" DESC LIMIT 1`,
  );
  return rows[0]?.at;
}
