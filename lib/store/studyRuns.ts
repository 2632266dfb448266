import { dateText } from '@/lib/run/localDate';
import type { WorldKey } from '@/lib/run/world';
import { readPlan } from '@/lib/study/stored';
import type { Queryable } from './database';
import { PERSON } from './names';

/** The runs of studies. */

export interface NewStudyRun {
  runId: string;
  studyId: string;
  version: number;
  wasChosen: boolean;
  addedAt: Date;
  addedById: string;
}

/** Those that belong to no study yet; returns how many. */
export async function insertStudyRuns(tx: Queryable, runs: readonly NewStudyRun[]): Promise<number> {
  const { count } = await tx.studyRun.createMany({ data: [...runs], skipDuplicates: true });
  return count;
}

/** More than anybody drives for one question. */
const MOST_RUNS = 800;

/** The runs of a study in the order in which they were driven, with the number that counts of each where one does. */
export async function runsOfStudy(db: Queryable, studyId: string, methodVersion: string) {
  const rows = await db.studyRun.findMany({
    where: { studyId },
    orderBy: { run: { number: 'asc' } },
    take: MOST_RUNS,
    select: {
      version: true,
      wasChosen: true,
      videoAtS: true,
      run: {
        select: {
          id: true,
          number: true,
          status: true,
          testerId: true,
          carId: true,
          setupId: true,
          loopId: true,
          sessionId: true,
          cruiseClassKey: true,
          localDate: true,
          monthOnly: true,
          tester: { select: PERSON },
          revisions: {
            orderBy: { number: 'desc' },
            take: 1,
            select: {
              startedAt: true,
              utcOffsetMin: true,
              conditions: { select: { airTemperatureC: true, windSpeedMps: true } },
            },
          },
          countedRuns: {
            where: { methodVersion },
            select: { z: true, u: true, countedAt: true, measuredWhPerKm: true },
          },
        },
      },
    },
  });
  return rows.map(({ run: { revisions, countedRuns, ...run }, ...of }) => ({
    ...run,
    ...of,
    revision: revisions[0],
    counted: countedRuns[0],
  }));
}

export type StoredStudyRun = Awaited<ReturnType<typeof runsOfStudy>>[number];

/**
 * Of one tester's runs of a study that wait for review, what they came to when they were sent in; null where that is no
 * number. It counts nowhere.
 */
export async function waitingResults(
  db: Queryable,
  studyId: string,
  testerId: string,
  methodVersion: string,
): Promise<Map<string, { z: number; u: number } | null>> {
  const rows = await db.studyRun.findMany({
    where: { studyId, run: { testerId, status: 'submitted' } },
    orderBy: { run: { number: 'asc' } },
    take: MOST_RUNS,
    select: {
      runId: true,
      run: {
        select: {
          revisions: {
            orderBy: { number: 'desc' },
            take: 1,
            select: {
              normalisations: {
                where: { methodVersion },
                select: { isNormalised: true, normalisedWhPerKm: true, uRunRelative: true },
              },
            },
          },
        },
      },
    },
  });
  return new Map(
    rows.map(({ runId, run }) => {
      const result = run.revisions[0]?.normalisations[0];
      if (result?.isNormalised !== true) return [runId, null];
      const { normalisedWhPerKm, uRunRelative } = result;
      return normalisedWhPerKm === null || uRunRelative === null
        ? [runId, null]
        : [runId, { z: Math.log(normalisedWhPerKm), u: uRunRelative }];
    }),
  );
}

export interface RunSteps {
  runId: string;
  measuredWhPerKm: number | null;
  isRetrospective: boolean;
  traffic: string;
  /** Of the stored result: its adjustment steps. */
  steps: unknown;
}

/** Of counted runs, what other ways of working a difference out need. */
export async function stepsOfRuns(
  db: Queryable,
  runIds: readonly string[],
  methodVersion: string,
): Promise<Map<string, RunSteps>> {
  const rows = await db.$queryRaw<RunSteps[]>`
    SELECT counted."runId", counted."measuredWhPerKm", revision."isRetrospective", conditions."traffic",
      result."result" #> '{normalisation,steps}' AS "steps"
    FROM "CountedRun" counted
    JOIN "Run" run ON run."id" = counted."runId"
    JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
    JOIN "Conditions" conditions ON conditions."revisionId" = revision."id"
    LEFT JOIN "Normalisation" result
      ON result."revisionId" = revision."id" AND result."methodVersion" = counted."methodVersion"
    WHERE counted."runId" = ANY(${[...runIds]}::uuid[]) AND counted."methodVersion" = ${methodVersion}
    LIMIT ${MOST_RUNS}`;
  return new Map(rows.map((row) => [row.runId, row]));
}

/** Open studies that one tester drives in are few. */
const MOST_OPEN = 20;

/** Studies that an account drives in and that are not over, the earliest first, each with the plan that holds. */
export async function openStudiesOf(db: Queryable, accountId: string, world?: WorldKey) {
  const rows = await db.study.findMany({
    where: { ...(world && { world }), state: { in: ['draft', 'running'] }, testers: { some: { accountId } } },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    take: MOST_OPEN,
    select: {
      id: true,
      slug: true,
      question: true,
      state: true,
      ownerId: true,
      modelId: true,
      versions: { orderBy: { number: 'desc' }, take: 1, select: { number: true, plan: true } },
    },
  });
  return rows.flatMap(({ versions: [newest], ...study }) => {
    const plan = readPlan(newest?.plan);
    return newest === undefined || plan === undefined ? [] : [{ ...study, version: newest.number, plan }];
  });
}

/** The study whose button began a run. */
export async function studyBegunFor(db: Queryable, runId: string): Promise<string | null> {
  const run = await db.run.findUnique({ where: { id: runId }, select: { begunForStudyId: true } });
  return run?.begunForStudyId ?? null;
}

/** Of several studies, what has a place in their orders: runs that were sent in, the earliest first. */
export async function placedRuns(db: Queryable, studyIds: readonly string[]) {
  const rows = await db.studyRun.findMany({
    where: { studyId: { in: [...studyIds] }, run: { status: { not: 'draft' } } },
    orderBy: { run: { number: 'asc' } },
    take: MOST_RUNS,
    select: {
      studyId: true,
      run: { select: { number: true, localDate: true, carId: true, setupId: true } },
    },
  });
  return rows.flatMap(({ studyId, run: { number, localDate, carId, setupId } }) =>
    localDate === null || carId === null || setupId === null
      ? []
      : [{ studyId, number, day: dateText(localDate), carId, setupId }],
  );
}

/** Whether a run belongs to a study that the account drives in; whoever planned one does. */
export async function isOfOwnStudy(db: Queryable, runId: string, accountId: string): Promise<boolean> {
  const found = await db.studyRun.findFirst({
    where: { runId, study: { testers: { some: { accountId } } } },
    select: { runId: true },
  });
  return found !== null;
}

export interface FittingRuns {
  testerId: string;
  world: WorldKey;
  cruiseClassKey: string;
  setupIds: readonly string[];
  /** Driven since. */
  since: Date;
}

/** So many days are offered to be added. */
const MOST_DAYS_OFFERED = 20;

/** A tester's sent-in runs that fit a plan and belong to no study, by their day, the latest days first. */
export async function daysThatFit(db: Queryable, { since, setupIds, ...of }: FittingRuns) {
  const rows = await db.run.findMany({
    where: {
      ...of,
      setupId: { in: [...setupIds] },
      status: { in: ['submitted', 'changesAsked', 'approved'] },
      studyRun: null,
      sessionId: { not: null },
      revisions: { some: { number: 1, startedAt: { gte: since } } },
    },
    orderBy: [{ localDate: 'desc' }, { number: 'desc' }],
    take: MOST_DAYS_OFFERED * 12,
    select: {
      id: true,
      sessionId: true,
      localDate: true,
      loop: { select: { name: true } },
      car: { select: { name: true } },
    },
  });
  const days = new Map<
    string,
    { sessionId: string; localDate: Date | null; loop: string; car: string; runIds: string[] }
  >();
  for (const { id, sessionId, localDate, loop, car } of rows) {
    if (sessionId === null) continue;
    const known = days.get(sessionId);
    if (known !== undefined) known.runIds.push(id);
    else
      days.set(sessionId, {
        sessionId,
        localDate,
        loop: loop?.name ?? '',
        car: car?.name ?? '',
        runIds: [id],
      });
  }
  return [...days.values()].slice(0, MOST_DAYS_OFFERED);
}

/** Where one tester's runs of a study begin in their video. */
export async function videoTimesOf(db: Queryable, studyId: string, testerId: string) {
  const rows = await db.studyRun.findMany({
    where: { studyId, run: { testerId } },
    orderBy: { run: { number: 'asc' } },
    take: MOST_RUNS,
    select: { runId: true, videoAtS: true, run: { select: { number: true } } },
  });
  return rows.map(({ run, ...of }) => ({ ...of, number: run.number }));
}

/** False where the run's time was changed meanwhile. */
export async function moveVideoTime(
  tx: Queryable,
  runId: string,
  { before, after }: { before: number | null; after: number | null },
): Promise<boolean> {
  const { count } = await tx.studyRun.updateMany({
    where: { runId, videoAtS: before },
    data: { videoAtS: after },
  });
  return count === 1;
}
