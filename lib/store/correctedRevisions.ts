import type { RunForm } from '@/lib/run/runForm';
import type { Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import type { Queryable } from './database';

/**
 * The next revisions of all runs of a correction, made of what it was reviewed with: set by set, however many they are.
 * What the correction does not touch is copied from the revision that counted or waited until now.
 */

export interface Approval {
  correctionId: string;
  proposedById: string;
  /** Null for a correction that touches no run. */
  reviewerId: string | null;
  note: string;
  protocolVersionId: string;
  at: Date;
}

/** Corrected readings of the one run of a correction, in place of the copied ones. */
export interface CorrectedRecord {
  form: RunForm;
  contentHash: string;
  columns: {
    startedAt: Date;
    utcOffsetMin: number;
    trueSpeedMethod: string;
    climate: string;
    chargerKind: string | null;
    isRetrospective: boolean;
    notes: string;
  };
  readings: readonly {
    quantity: string;
    moment: string;
    instrument: string;
    enteredText: string;
    enteredUnit: string;
    value: number;
    low: number;
    high: number;
  }[];
  conditions: Omit<Prisma.ConditionsUncheckedCreateInput, 'revisionId'>;
}

/** As they were but for what the correction changes. */
async function insertCopies(tx: Queryable, approval: Approval): Promise<void> {
  const { correctionId, proposedById, protocolVersionId, at } = approval;
  await tx.$executeRaw`
    INSERT INTO "RunRevision" ("id", "runId", "number", "submittedById", "submittedAt", "form", "contentHash",
      "startedAt", "utcOffsetMin", "localDate", "trueSpeedMethod", "climate", "chargerKind", "isRetrospective", "notes",
      "protocolVersionId", "traceId", "correctionId")
    SELECT gen_random_uuid(), base."runId",
      (SELECT max(other."number") + 1 FROM "RunRevision" other WHERE other."runId" = base."runId"),
      ${proposedById}::uuid, ${at}, base."form", base."contentHash",
      base."startedAt", base."utcOffsetMin", base."localDate", base."trueSpeedMethod", base."climate",
      base."chargerKind", base."isRetrospective", base."notes",
      ${protocolVersionId}::uuid, base."traceId", ${correctionId}::uuid
    FROM "CorrectionRun" made JOIN "RunRevision" base ON base."id" = made."baseId"
    WHERE made."correctionId" = ${correctionId}::uuid`;
  await copyRecords(tx, correctionId);
}

/** The one revision of corrected readings, or the copies; then what was computed for each. */
export async function makeCorrectedRevisions(
  tx: Queryable,
  approval: Approval,
  record: CorrectedRecord | undefined,
): Promise<void> {
  const { correctionId, protocolVersionId, at } = approval;
  if (record === undefined) await insertCopies(tx, approval);
  else await insertCorrectedRecord(tx, approval, record);
  await tx.$executeRaw`
    INSERT INTO "RevisionEvidence" ("revisionId", "evidenceId", "marks")
    SELECT revision."id", kept."evidenceId", kept."marks"
    FROM "CorrectionRun" made
    JOIN "RunRevision" revision ON revision."correctionId" = made."correctionId" AND revision."runId" = made."runId"
    JOIN "RevisionEvidence" kept ON kept."revisionId" = made."baseId"
    WHERE made."correctionId" = ${correctionId}::uuid`;
  await tx.$executeRaw`
    INSERT INTO "RevisionInputs" ("revisionId", "snapshot", "origin", "takenAt")
    SELECT revision."id", made."snapshot", 'corrected', ${at}
    FROM "CorrectionRun" made
    JOIN "RunRevision" revision ON revision."correctionId" = made."correctionId" AND revision."runId" = made."runId"
    WHERE made."correctionId" = ${correctionId}::uuid`;
  await tx.$executeRaw`
    INSERT INTO "Normalisation" ("revisionId", "methodVersion", "computedAt", "input", "result", "isNormalised",
      "measuredWhPerKm", "normalisedWhPerKm", "uWhPerKm", "uRunRelative", "effectiveDof", "adjustmentRelative")
    SELECT revision."id", made."methodVersion", ${at}, made."result"->'input', made."result"->'result',
      (made."result"->>'isNormalised')::boolean, (made."result"->>'measuredWhPerKm')::float8,
      (made."result"->>'normalisedWhPerKm')::float8, (made."result"->>'uWhPerKm')::float8,
      (made."result"->>'uRunRelative')::float8, (made."result"->>'effectiveDof')::float8,
      (made."result"->>'adjustmentRelative')::float8
    FROM "CorrectionRun" made
    JOIN "RunRevision" revision ON revision."correctionId" = made."correctionId" AND revision."runId" = made."runId"
    WHERE made."correctionId" = ${correctionId}::uuid`;
  await tx.$executeRaw`
    INSERT INTO "Finding" ("revisionId", "protocolVersionId", "ruleId", "outcome", "numbers", "sentence", "said")
    SELECT revision."id", ${protocolVersionId}::uuid, finding->>'ruleId', (finding->>'outcome')::"FindingOutcome",
      finding->'numbers', finding->>'sentence', finding->'said'
    FROM "CorrectionRun" made
    JOIN "RunRevision" revision ON revision."correctionId" = made."correctionId" AND revision."runId" = made."runId"
    CROSS JOIN LATERAL jsonb_array_elements(made."findings") finding
    WHERE made."correctionId" = ${correctionId}::uuid`;
}

/** What stood on the displays and in the weather reports stays. */
async function copyRecords(tx: Queryable, correctionId: string): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO "Reading" ("revisionId", "quantity", "moment", "instrument", "enteredText", "enteredUnit", "value", "low", "high")
    SELECT revision."id", kept."quantity", kept."moment", kept."instrument", kept."enteredText", kept."enteredUnit",
      kept."value", kept."low", kept."high"
    FROM "CorrectionRun" made
    JOIN "RunRevision" revision ON revision."correctionId" = made."correctionId" AND revision."runId" = made."runId"
    JOIN "Reading" kept ON kept."revisionId" = made."baseId"
    WHERE made."correctionId" = ${correctionId}::uuid`;
  await tx.$executeRaw`
    INSERT INTO "Conditions" ("revisionId", "source", "airTemperatureC", "airTemperatureUC", "pressurePa", "pressureKind",
      "relativeHumidity", "dewPointC", "windSpeedMps", "windFromDeg", "windGustMps", "stationDistanceM", "precipitation",
      "road", "traffic", "closeFollowing", "stationReport")
    SELECT revision."id", kept."source", kept."airTemperatureC", kept."airTemperatureUC", kept."pressurePa",
      kept."pressureKind", kept."relativeHumidity", kept."dewPointC", kept."windSpeedMps", kept."windFromDeg",
      kept."windGustMps", kept."stationDistanceM", kept."precipitation", kept."road", kept."traffic",
      kept."closeFollowing", kept."stationReport"
    FROM "CorrectionRun" made
    JOIN "RunRevision" revision ON revision."correctionId" = made."correctionId" AND revision."runId" = made."runId"
    JOIN "Conditions" kept ON kept."revisionId" = made."baseId"
    WHERE made."correctionId" = ${correctionId}::uuid`;
}

/** The corrected readings of one run, instead. */
async function insertCorrectedRecord(
  tx: Queryable,
  { correctionId, proposedById, protocolVersionId, at }: Approval,
  { form, contentHash, columns, readings, conditions }: CorrectedRecord,
): Promise<void> {
  const { runId, base } = await tx.correctionRun.findFirstOrThrow({
    where: { correctionId },
    select: { runId: true, base: { select: { traceId: true, localDate: true } } },
  });
  const last = await tx.runRevision.aggregate({ where: { runId }, _max: { number: true } });
  await tx.runRevision.create({
    data: {
      ...base,
      ...columns,
      runId,
      number: (last._max.number ?? 0) + 1,
      submittedById: proposedById,
      submittedAt: at,
      form,
      contentHash,
      protocolVersionId,
      correctionId,
      readings: { create: readings.map((reading) => ({ ...reading })) },
      conditions: { create: conditions },
    },
    select: { id: true },
  });
  await tx.run.update({ where: { id: runId }, data: { draft: asJson(form) }, select: { id: true } });
}

/**
 * Makes the new revisions the ones that count, with the decision that made them so, or that wait: of a run that waits
 * for its own review the version of the draft rises and a first approval is void, so that nobody decides on what they did
 * not read.
 */
export async function putInForce(tx: Queryable, approval: Approval): Promise<void> {
  const { correctionId, reviewerId, note, at } = approval;
  await tx.$executeRaw`
    UPDATE "Run" run SET "approvedRevision" = revision."number"
    FROM "RunRevision" revision
    WHERE revision."correctionId" = ${correctionId}::uuid AND revision."runId" = run."id" AND run."status" = 'approved'`;
  await tx.$executeRaw`
    UPDATE "Run" run SET "draftVersion" = run."draftVersion" + 1, "firstApprovalById" = NULL
    FROM "RunRevision" revision
    WHERE revision."correctionId" = ${correctionId}::uuid AND revision."runId" = run."id" AND run."status" = 'submitted'`;
  await tx.$executeRaw`
    INSERT INTO "Decision" ("id", "revisionId", "reviewerId", "kind", "note", "decidedAt", "round")
    SELECT gen_random_uuid(), revision."id", ${reviewerId}::uuid, 'approve', ${note}, ${at}, run."round"
    FROM "RunRevision" revision JOIN "Run" run ON run."id" = revision."runId"
    WHERE revision."correctionId" = ${correctionId}::uuid AND run."status" = 'approved' AND ${reviewerId}::uuid IS NOT NULL`;
  await tx.$executeRaw`
    INSERT INTO "AuditEntry" ("at", "actorId", "action", "subjectKind", "subjectId", "details")
    SELECT ${at}, ${reviewerId}::uuid, 'run.correct', 'run', revision."runId"::text,
      jsonb_build_object('revision', revision."number", 'correction', correction."number",
        'whPerKm', jsonb_build_object('before', made."beforeWhPerKm", 'after', made."afterWhPerKm"))
    FROM "CorrectionRun" made
    JOIN "Correction" correction ON correction."id" = made."correctionId"
    JOIN "RunRevision" revision ON revision."correctionId" = made."correctionId" AND revision."runId" = made."runId"
    WHERE made."correctionId" = ${correctionId}::uuid
    ORDER BY made."number"`;
}

/** The runs of a correction by id, in order, after the one named. */
export async function correctedRunIds(
  db: Queryable,
  correctionId: string,
  afterId: string | undefined,
  take: number,
): Promise<string[]> {
  const rows = await db.correctionRun.findMany({
    where: { correctionId, ...(afterId === undefined ? {} : { runId: { gt: afterId } }) },
    orderBy: { runId: 'asc' },
    take,
    select: { runId: true },
  });
  return rows.map(({ runId }) => runId);
}

/** The fits and road loads that rest on runs of a correction. */
export function groupsOfCorrection(db: Queryable, correctionId: string) {
  return db.$queryRaw<{ cruiseClassKey: string; world: string; modelId: string }[]>`
    SELECT DISTINCT run."cruiseClassKey", run."world", setup."modelId"::text
    FROM "CorrectionRun" made JOIN "Run" run ON run."id" = made."runId" JOIN "Setup" setup ON setup."id" = run."setupId"
    WHERE made."correctionId" = ${correctionId}::uuid AND run."status" = 'approved'`;
}
