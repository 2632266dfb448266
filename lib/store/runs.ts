import { midnightUtc } from '@/lib/run/localDate';
import type { RunForm } from '@/lib/run/runForm';
import type { RunStatus } from '@/lib/run/runStatus';
import { readForm } from '@/lib/run/stored';
import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { beyond, type Place, readingOrder } from './keyset';

export function runByCreationKey(db: Queryable, testerId: string, creationKey: string) {
  return db.run.findUnique({
    where: { testerId_creationKey: { testerId, creationKey } },
    select: { id: true, number: true, draftVersion: true },
  });
}

export function insertDraft(
  db: Queryable,
  draft: { testerId: string; creationKey: string; form: RunForm; world: WorldKey; at: Date },
) {
  return db.run.create({
    data: {
      testerId: draft.testerId,
      creationKey: draft.creationKey,
      draft: draft.form,
      draftSavedAt: draft.at,
      world: draft.world,
      createdAt: draft.at,
    },
    select: { id: true, number: true, draftVersion: true },
  });
}

/** Saves only over the version that the writer has seen; false when someone else saved in between. */
export async function updateDraft(
  db: Queryable,
  runId: string,
  seenVersion: number,
  editable: RunStatus[],
  form: RunForm,
  at: Date,
): Promise<boolean> {
  const { count } = await db.run.updateMany({
    where: { id: runId, draftVersion: seenVersion, status: { in: editable } },
    data: { draft: form, draftVersion: { increment: 1 }, draftSavedAt: at },
  });
  return count === 1;
}

/** What the use cases need to know of a run before they change it. */
export async function runState(db: Queryable, runId: string) {
  const run = await db.run.findUnique({
    where: { id: runId },
    select: {
      id: true,
      number: true,
      testerId: true,
      status: true,
      draft: true,
      draftVersion: true,
      cruiseClassKey: true,
      world: true,
      approvedRevision: true,
      tester: { select: { world: true } },
      setup: { select: { modelId: true } },
      revisions: { orderBy: { number: 'desc' }, take: 1, select: { id: true, number: true } },
    },
  });
  return run && { ...run, draft: readForm(run.draft) };
}

/** A change of state that only happens from one of the states that allow it; false when it was too late. */
export async function moveRun(
  db: Queryable,
  runId: string,
  from: RunStatus[],
  data: Prisma.RunUncheckedUpdateManyInput,
  seenVersion?: number,
): Promise<boolean> {
  const { count } = await db.run.updateMany({
    where: {
      id: runId,
      status: { in: from },
      ...(seenVersion === undefined ? {} : { draftVersion: seenVersion }),
    },
    data,
  });
  return count === 1;
}

/**
 * Car, setup, loop and calibration facts that the reduction of one run needs. The directions are as stored: the snapshot
 * that is made of all this reads them, and refuses a run whose loop's cannot be read.
 */
export async function reductionSubjects(
  db: Queryable,
  ids: { carId: string; setupId: string; loopId: string },
) {
  const [car, setup, loop] = await Promise.all([
    db.car.findUnique({
      where: { id: ids.carId },
      select: {
        id: true,
        ownerId: true,
        modelId: true,
        world: true,
        registeredMassKg: true,
        usableCapacityWh: true,
        dragAreaM2: true,
        rollingCoefficient: true,
        coastDownF0N: true,
        coastDownF1NPerKmh: true,
        coastDownF2NPerKmh2: true,
        ownValuesSource: true,
        placardFrontPa: true,
        placardRearPa: true,
        model: {
          select: {
            id: true,
            bodyClass: true,
            kerbMassKg: true,
            usableCapacityWh: true,
            dragAreaM2: true,
            dragAreaSource: true,
            hasHeatPump: true,
            levels: { where: { factor: 'wheelTyre', isBaseline: true }, select: { tyreKind: true } },
          },
        },
        calibrations: {
          select: {
            instrument: true,
            factor: true,
            standardUncertainty: true,
            method: true,
            measuredOn: true,
            odometerM: true,
            invalidatedOn: true,
            invalidatedReason: true,
          },
        },
      },
    }),
    db.setup.findUnique({
      where: { id: ids.setupId },
      select: {
        id: true,
        modelId: true,
        world: true,
        levels: {
          select: { factor: true, level: { select: { id: true, isBaseline: true, tyreKind: true } } },
        },
      },
    }),
    db.loop.findUnique({
      where: { id: ids.loopId },
      select: {
        id: true,
        name: true,
        world: true,
        lengthM: true,
        lengthUncertaintyM: true,
        altitudeM: true,
        netClimbM: true,
        closureDistanceM: true,
        closureHeightM: true,
        sharedRouteShare: true,
        offCruiseShare: true,
        postedLimitMps: true,
        bearings: true,
        legs: { select: { direction: true, lengthM: true, netClimbM: true, bearings: true } },
      },
    }),
  ]);
  return { car, setup, loop };
}

export type ReductionSubjects = Awaited<ReturnType<typeof reductionSubjects>>;

export async function findOrInsertSession(
  db: Queryable,
  session: { carId: string; loopId: string; localDate: string },
): Promise<string> {
  const localDate = midnightUtc(session.localDate);
  const found = await db.session.upsert({
    where: { carId_loopId_localDate: { carId: session.carId, loopId: session.loopId, localDate } },
    create: { carId: session.carId, loopId: session.loopId, localDate },
    update: {},
    select: { id: true },
  });
  return found.id;
}

/** The number of another run with the same content, oldest first; the run itself does not count. */
export async function runWithContent(db: Queryable, contentHash: string, exceptRunId: string) {
  const revision = await db.runRevision.findFirst({
    where: { contentHash, runId: { not: exceptRunId }, run: { status: { notIn: ['draft', 'rejected'] } } },
    orderBy: { submittedAt: 'asc' },
    select: { run: { select: { number: true } } },
  });
  return revision?.run.number;
}

export function insertRevision(db: Queryable, revision: Prisma.RunRevisionUncheckedCreateInput) {
  return db.runRevision.create({ data: revision, select: { id: true, number: true } });
}

export function insertEvidence(db: Queryable, file: Prisma.EvidenceFileUncheckedCreateInput) {
  return db.evidenceFile.create({ data: file, select: { id: true } });
}

/**
 * The same picture of the same kind that the run has already. The caller holds the run's row, so that two uploads of
 * one picture wait for each other and the second finds the first.
 */
export function equalEvidence(
  db: Queryable,
  file: { runId: string; kind: string; sha256: string; capturedAt: Date | null },
) {
  return db.evidenceFile.findFirst({
    where: { ...file, removedAt: null },
    select: { id: true, thumbSha256: true },
  });
}

export function evidenceOf(db: Queryable, runId: string) {
  return db.evidenceFile.findMany({
    where: { runId, removedAt: null },
    orderBy: [{ uploadedAt: 'asc' }, { id: 'asc' }],
    select: {
      id: true,
      kind: true,
      sha256: true,
      thumbSha256: true,
      mime: true,
      widthPx: true,
      heightPx: true,
      capturedAt: true,
    },
  });
}

export async function removeEvidenceFile(
  db: Queryable,
  id: string,
  runId: string,
  at: Date,
): Promise<boolean> {
  const { count } = await db.evidenceFile.updateMany({
    where: { id, runId, removedAt: null },
    data: { removedAt: at },
  });
  return count === 1;
}

/** Whose evidence a stored picture is, and whether its run is public. */
export function evidenceByDigest(db: Queryable, digest: string) {
  return db.evidenceFile.findMany({
    where: {
      OR: [{ sha256: digest }, { thumbSha256: digest }],
      // A photo taken off a later draft stays with the revisions that were submitted with it.
      AND: { OR: [{ removedAt: null }, { revisions: { some: {} } }] },
    },
    select: {
      mime: true,
      sha256: true,
      run: { select: { testerId: true, status: true, world: true } },
      revisions: {
        select: { revision: { select: { number: true, run: { select: { approvedRevision: true } } } } },
      },
    },
  });
}

/** A tester's runs in one state from a place on, those saved last first. */
export async function runsOf(
  db: Queryable,
  of: { testerId: string; status: RunStatus },
  place: Place<readonly [Date, number]> | undefined,
  take: number,
) {
  const order = readingOrder(place, 'desc');
  const runs = await db.run.findMany({
    where: { ...of, AND: beyond<Prisma.RunWhereInput>(['draftSavedAt', 'number'], place, 'desc') },
    orderBy: [{ draftSavedAt: order }, { number: order }],
    take,
    select: {
      id: true,
      number: true,
      status: true,
      draft: true,
      draftSavedAt: true,
      submittedAt: true,
      decidedAt: true,
      car: { select: { name: true } },
      setup: { select: { title: true, slug: true } },
      loop: { select: { name: true } },
      cruiseClass: { select: { label: true } },
      revisions: {
        orderBy: { number: 'desc' },
        take: 1,
        select: {
          localDate: true,
          decisions: {
            select: { kind: true, note: true, reasons: { select: { ruleId: true, text: true } } },
          },
        },
      },
    },
  });
  return runs.map((run) => ({ ...run, draft: readForm(run.draft) }));
}

/** How many runs of a tester are in each state. */
export async function countRunsOf(db: Queryable, testerId: string): Promise<Map<RunStatus, number>> {
  const rows = await db.run.groupBy({ by: ['status'], where: { testerId }, _count: true });
  return new Map(rows.map(({ status, _count }) => [status, _count]));
}

/** What the choices of drafts are called, by id: cars of their tester, setups and loops. */
export async function namesOfChoices(
  db: Queryable,
  {
    ownerId,
    carIds,
    setupIds,
    loopIds,
  }: Record<'carIds' | 'setupIds' | 'loopIds', string[]> & { ownerId: string },
): Promise<Map<string, string>> {
  const [cars, setups, loops] = await Promise.all([
    db.car.findMany({ where: { id: { in: carIds }, ownerId }, select: { id: true, name: true } }),
    db.setup.findMany({ where: { id: { in: setupIds } }, select: { id: true, title: true } }),
    db.loop.findMany({ where: { id: { in: loopIds } }, select: { id: true, name: true } }),
  ]);
  return new Map([
    ...[...cars, ...loops].map(({ id, name }) => [id, name] as const),
    ...setups.map(({ id, title }) => [id, title] as const),
  ]);
}

export async function insertRetraction(
  tx: Queryable,
  retraction: { runId: string; byId: string; reason: string; retractedAt: Date },
): Promise<void> {
  await tx.retraction.create({ data: retraction, select: { runId: true } });
}
