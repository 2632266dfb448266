import { midnightUtc } from '@/lib/run/localDate';
import type { RunForm } from '@/lib/run/runForm';
import type { RunStatus } from '@/lib/run/runStatus';
import { readForm } from '@/lib/run/stored';
import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';

export function runByCreationKey(db: Queryable, testerId: string, creationKey: string) {
  return db.run.findUnique({
    where: { testerId_creationKey: { testerId, creationKey } },
    select: { id: true, number: true, draftVersion: true },
  });
}

/** Whether a tester has ever sent a run in. */
export async function hasSentRun(db: Queryable, testerId: string): Promise<boolean> {
  const found = await db.run.findFirst({
    where: { testerId, submittedAt: { not: null } },
    select: { id: true },
  });
  return found !== null;
}

/** Whether any run of a world was ever sent in. */
export async function hasRunOf(db: Queryable, world: WorldKey): Promise<boolean> {
  const found = await db.run.findFirst({
    where: { world, submittedAt: { not: null } },
    select: { id: true },
  });
  return found !== null;
}

export function insertDraft(
  db: Queryable,
  draft: {
    testerId: string;
    creationKey: string;
    form: RunForm;
    world: WorldKey;
    at: Date;
    sheetId?: string | undefined;
    begunForStudyId?: string | undefined;
  },
) {
  return db.run.create({
    data: {
      testerId: draft.testerId,
      creationKey: draft.creationKey,
      draft: draft.form,
      draftSavedAt: draft.at,
      sheetId: draft.sheetId ?? null,
      begunForStudyId: draft.begunForStudyId ?? null,
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
      round: true,
      firstApprovalById: true,
      tester: { select: { world: true } },
      setup: { select: { modelId: true, model: { select: { makerId: true } } } },
      revisions: {
        orderBy: { number: 'desc' },
        take: 1,
        select: { id: true, number: true, submittedAt: true },
      },
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
  /** Who had approved it first when it was read. */
  seenFirst?: string | null,
): Promise<boolean> {
  const { count } = await db.run.updateMany({
    where: {
      id: runId,
      status: { in: from },
      ...(seenVersion === undefined ? {} : { draftVersion: seenVersion }),
      ...(seenFirst === undefined ? {} : { firstApprovalById: seenFirst }),
    },
    // A first approval is waited on in the state that it was given in, and in no other.
    data:
      data.status === undefined || data.status === 'submitted' ? data : { ...data, firstApprovalById: null },
  });
  return count === 1;
}

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

/** The number of another run that was sent in with the same content by then, the oldest first; the run itself does not count. */
export async function runWithContent(db: Queryable, contentHash: string, exceptRunId: string, by: Date) {
  const revision = await db.runRevision.findFirst({
    where: {
      contentHash,
      runId: { not: exceptRunId },
      submittedAt: { lte: by },
      run: { status: { notIn: ['draft', 'rejected'] } },
    },
    orderBy: { submittedAt: 'asc' },
    select: { run: { select: { number: true } } },
  });
  return revision?.run.number;
}

export function insertRevision(db: Queryable, revision: Prisma.RunRevisionUncheckedCreateInput) {
  return db.runRevision.create({ data: revision, select: { id: true, number: true } });
}

export async function insertRetraction(
  tx: Queryable,
  retraction: { runId: string; byId: string; reason: string; retractedAt: Date },
): Promise<void> {
  await tx.retraction.create({ data: retraction, select: { runId: true } });
}

/** The form of the revision that counts, of an approved run. */
export async function countedForm(db: Queryable, runId: string) {
  const run = await db.run.findUnique({ where: { id: runId }, select: { approvedRevision: true } });
  if (run === null || run.approvedRevision === null) return null;
  const revision = await db.runRevision.findUnique({
    where: { runId_number: { runId, number: run.approvedRevision } },
    select: { form: true },
  });
  return revision && { form: readForm(revision.form) };
}

export async function insertAppeal(tx: Queryable, appeal: Prisma.AppealUncheckedCreateInput): Promise<void> {
  await tx.appeal.create({ data: appeal, select: { revisionId: true } });
}

export async function runIdOf(db: Queryable, number: number): Promise<string | undefined> {
  return (await db.run.findUnique({ where: { number }, select: { id: true } }))?.id;
}
