import { createHash } from 'node:crypto';
import { readTrace } from '@/lib/capture/stored';
import { readFindingNumbers, readSaid } from '@/lib/protocol/stored';
import type { CorrectedKind } from '@/lib/reduction/corrections/change';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import { readSnapshot } from '@/lib/reduction/stored';
import type { NormalisationRow } from '@/lib/reduction/storedReduction';
import { readForm } from '@/lib/run/stored';
import { Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import type { Queryable } from './database';
import { beyondOne, type Place, readingOrder } from './keyset';
import { PERSON } from './names';

/** The runs that a correction touches, and what it makes of them. */

export interface CorrectedSubject {
  kind: CorrectedKind;
  subjectId: string;
}

/** A run of the thing that counts or waits for a review, with the revision that does. */
export interface Candidate {
  runId: string;
  baseId: string;
  world: string;
}

function isOf({ kind, subjectId }: CorrectedSubject): Prisma.Sql {
  const id = Prisma.sql`${subjectId}::uuid`;
  switch (kind) {
    case 'car':
    case 'calibrations':
      return Prisma.sql`run."carId" = ${id}`;
    case 'loop':
      return Prisma.sql`run."loopId" = ${id}`;
    case 'model':
      return Prisma.sql`run."setupId" IN (SELECT setup."id" FROM "Setup" setup WHERE setup."modelId" = ${id})`;
    case 'run':
      return Prisma.sql`run."id" = ${id}`;
  }
}

/** In order of their ids, after the one named. */
export function candidates(
  db: Queryable,
  subject: CorrectedSubject,
  afterId: string | undefined,
  take: number,
): Promise<Candidate[]> {
  return db.$queryRaw<Candidate[]>`
    SELECT run."id"::text AS "runId", base."id"::text AS "baseId", run."world"
    FROM "Run" run
    JOIN LATERAL (
      SELECT revision."id" FROM "RunRevision" revision
      WHERE revision."runId" = run."id"
        AND (run."status" = 'submitted' OR revision."number" = run."approvedRevision")
      ORDER BY revision."number" DESC LIMIT 1) base ON true
    WHERE run."status" IN ('approved', 'submitted') AND ${isOf(subject)}
      AND (${afterId ?? null}::uuid IS NULL OR run."id" > ${afterId ?? null}::uuid)
    ORDER BY run."id"
    LIMIT ${take}`;
}

/** Whether any such run was driven on or after a day, or at all. */
export async function hasCandidates(
  db: Queryable,
  subject: CorrectedSubject,
  fromDay?: string,
): Promise<boolean> {
  const rows = await db.$queryRaw<unknown[]>`
    SELECT 1 FROM "Run" run
    WHERE run."status" IN ('approved', 'submitted') AND ${isOf(subject)}
      AND (${fromDay ?? null}::date IS NULL OR run."localDate" >= ${fromDay ?? null}::date)
    LIMIT 1`;
  return rows.length > 0;
}

const CURSOR_ROWS = 1000;

/** One digest of all candidates with the revisions that count or wait, in order of their ids, and their worlds. */
export async function digestOfCandidates(
  db: Queryable,
  subject: CorrectedSubject,
): Promise<{ digest: string; count: number; worlds: string[] }> {
  const hash = createHash('sha256');
  const worlds = new Set<string>();
  let count = 0;
  let last: string | undefined;
  for (;;) {
    const rows = await candidates(db, subject, last, CURSOR_ROWS);
    for (const { runId, baseId, world } of rows) {
      hash.update(`${runId} ${baseId}\n`);
      worlds.add(world);
    }
    count += rows.length;
    last = rows.at(-1)?.runId;
    if (rows.length < CURSOR_ROWS) return { digest: hash.digest('hex'), count, worlds: [...worlds].sort() };
  }
}

/** The revisions that candidates count or wait by, with what they were made from. */
export async function basesOf(db: Queryable, baseIds: readonly string[]) {
  const rows = await db.runRevision.findMany({
    where: { id: { in: [...baseIds] } },
    orderBy: { runId: 'asc' },
    select: {
      id: true,
      number: true,
      form: true,
      contentHash: true,
      submittedAt: true,
      inputs: { select: { snapshot: true } },
      trace: { select: { id: true, reduction: true } },
      evidence: {
        select: {
          evidence: { select: { id: true, kind: true, capturedAt: true, capturedUtcOffsetMin: true } },
        },
      },
      run: { select: { id: true, number: true, testerId: true, status: true, world: true } },
    },
  });
  return rows.map(({ form, inputs, trace, evidence, ...base }) => ({
    ...base,
    form: readForm(form),
    inputs: inputs && readSnapshot(inputs.snapshot),
    trace: trace && { id: trace.id, stored: readTrace(trace.reduction) },
    evidence: evidence.map((each) => each.evidence),
  }));
}

export type CorrectedBase = Awaited<ReturnType<typeof basesOf>>[number];

/** A finding as a revision will keep it. */
export interface KeptFinding {
  ruleId: string;
  outcome: 'pass' | 'caution' | 'fail' | 'notChecked';
  numbers: readonly object[];
  sentence: string;
  said?: object | undefined;
}

export interface NewCorrectionRun {
  correctionId: string;
  runId: string;
  number: number;
  testerId: string;
  isCounted: boolean;
  baseId: string;
  beforeWhPerKm: number | null;
  beforeUWhPerKm: number | null;
  failsBefore: number;
  failsAfter: number;
  cautionsBefore: number;
  cautionsAfter: number;
  snapshot: ReductionSnapshot;
  row: NormalisationRow;
  findings: readonly KeptFinding[];
}

export async function insertCorrectionRuns(tx: Queryable, runs: readonly NewCorrectionRun[]): Promise<void> {
  await tx.correctionRun.createMany({
    data: runs.map(({ snapshot, row, findings, ...run }) => ({
      ...run,
      methodVersion: row.methodVersion,
      afterWhPerKm: row.normalisedWhPerKm,
      afterUWhPerKm: row.uWhPerKm,
      snapshot: asJson(snapshot),
      result: asJson(row),
      findings: asJson([...findings]),
    })),
    skipDuplicates: true,
  });
}

export async function dropCorrectionRuns(tx: Queryable, correctionId: string): Promise<void> {
  await tx.correctionRun.deleteMany({ where: { correctionId } });
}

/** What the page of a correction shows, by the runs' numbers from a place on. */
export async function listCorrectionRuns(
  db: Queryable,
  correctionId: string,
  place: Place<number> | undefined,
  take: number,
) {
  const rows = await db.correctionRun.findMany({
    where: { correctionId, AND: beyondOne<Prisma.CorrectionRunWhereInput>('number', place, 'asc') },
    orderBy: { number: readingOrder(place, 'asc') },
    take,
    select: {
      number: true,
      isCounted: true,
      beforeWhPerKm: true,
      beforeUWhPerKm: true,
      afterWhPerKm: true,
      afterUWhPerKm: true,
      failsBefore: true,
      failsAfter: true,
      cautionsBefore: true,
      cautionsAfter: true,
      findings: true,
      run: {
        select: {
          status: true,
          localDate: true,
          tester: { select: PERSON },
          setup: { select: { title: true } },
        },
      },
    },
  });
  return rows.map(({ findings, ...row }) => ({ ...row, findings: readFindings(findings) }));
}

/** In sums over all of its runs. */
export async function sumsOfCorrection(db: Queryable, correctionId: string) {
  const [sums] = await db.$queryRaw<CorrectionSums[]>`
    SELECT count(*)::int AS "runs", count(*) FILTER (WHERE "isCounted")::int AS "counted",
      count(DISTINCT "testerId")::int AS "testers",
      count(*) FILTER (WHERE "failsAfter" > 0)::int AS "failing",
      count(*) FILTER (WHERE "failsAfter" > "failsBefore")::int AS "newlyFailing",
      count(*) FILTER (WHERE "afterWhPerKm" IS NULL AND "beforeWhPerKm" IS NOT NULL)::int AS "withoutNumber",
      min(ln("afterWhPerKm" / "beforeWhPerKm")) AS "leastLog", max(ln("afterWhPerKm" / "beforeWhPerKm")) AS "mostLog"
    FROM "CorrectionRun" WHERE "correctionId" = ${correctionId}::uuid`;
  return sums;
}

export interface CorrectionSums {
  runs: number;
  counted: number;
  testers: number;
  failing: number;
  newlyFailing: number;
  withoutNumber: number;
  leastLog: number | null;
  mostLog: number | null;
}

export async function hasRunOf(db: Queryable, correctionId: string, testerId: string): Promise<boolean> {
  const found = await db.correctionRun.findFirst({
    where: { correctionId, testerId },
    select: { runId: true },
  });
  return found !== null;
}

/** Whether somebody keeps out of a tester, model or maker of its runs. */
export async function hasInterestIn(
  db: Queryable,
  correctionId: string,
  accountId: string,
): Promise<boolean> {
  const rows = await db.$queryRaw<unknown[]>`
    SELECT 1
    FROM "DeclaredInterest" interest
    JOIN "CorrectionRun" made ON made."correctionId" = ${correctionId}::uuid
    JOIN "Run" run ON run."id" = made."runId"
    JOIN "Setup" setup ON setup."id" = run."setupId"
    JOIN "VehicleModel" model ON model."id" = setup."modelId"
    WHERE interest."accountId" = ${accountId}::uuid AND interest."endedAt" IS NULL
      AND (interest."kind", interest."subjectId") IN (
        ('account', made."testerId"), ('model', model."id"), ('maker', model."makerId"))
    LIMIT 1`;
  return rows.length > 0;
}

/** Whether a run of it belongs to a study that the account drives in. */
export async function hasStudyOf(db: Queryable, correctionId: string, accountId: string): Promise<boolean> {
  const rows = await db.$queryRaw<unknown[]>`
    SELECT 1
    FROM "CorrectionRun" made
    JOIN "StudyRun" of ON of."runId" = made."runId"
    JOIN "StudyTester" drives ON drives."studyId" = of."studyId"
    WHERE made."correctionId" = ${correctionId}::uuid AND drives."accountId" = ${accountId}::uuid
    LIMIT 1`;
  return rows.length > 0;
}

/** How many runs of each tester, so that they can be told. */
export async function testersOfCorrection(db: Queryable, correctionId: string) {
  const groups = await db.correctionRun.groupBy({
    by: ['testerId'],
    where: { correctionId },
    orderBy: { testerId: 'asc' },
    _count: true,
  });
  return groups.map(({ testerId, _count }) => ({ testerId, runs: _count }));
}

/** The open corrections that a run is in, with what they make of it. */
export function openCorrectionsOfRun(db: Queryable, runId: string) {
  return db.correctionRun.findMany({
    where: { runId, correction: { state: 'waiting' } },
    orderBy: { correctionId: 'asc' },
    take: 10,
    select: {
      beforeWhPerKm: true,
      afterWhPerKm: true,
      afterUWhPerKm: true,
      correction: { select: { number: true, kind: true } },
    },
  });
}

const finding = (stored: unknown): KeptFinding[] => {
  if (typeof stored !== 'object' || stored === null) return [];
  const { ruleId, outcome, numbers, sentence, said } = stored as Record<string, unknown>;
  if (typeof ruleId !== 'string' || typeof sentence !== 'string') return [];
  if (outcome !== 'pass' && outcome !== 'caution' && outcome !== 'fail' && outcome !== 'notChecked')
    return [];
  return [{ ruleId, outcome, sentence, numbers: readFindingNumbers(numbers), said: readSaid(said) }];
};

/** As far as they can be read. */
export function readFindings(stored: unknown) {
  return Array.isArray(stored) ? stored.flatMap(finding) : [];
}
