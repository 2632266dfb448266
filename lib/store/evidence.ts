import type { PhotoMark } from '@/lib/run/photoMarks';
import { readMarks } from '@/lib/run/stored';
import type { Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import type { Queryable } from './database';
import { PHOTO } from './names';

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

export async function evidenceOf(db: Queryable, runId: string) {
  const files = await db.evidenceFile.findMany({
    where: { runId, removedAt: null },
    orderBy: [{ uploadedAt: 'asc' }, { id: 'asc' }],
    select: {
      ...PHOTO,
      mime: true,
      capturedUtcOffsetMin: true,
      marks: true,
    },
  });
  return files.map(({ marks, ...file }) => ({ ...file, marks: readMarks(marks) }));
}

/** The kind and the marks of one photo of a run; null where it is not on it (any more). */
export async function photoOnRun(db: Queryable, id: string, runId: string) {
  const found = await db.evidenceFile.findFirst({
    where: { id, runId, removedAt: null },
    select: { kind: true, marks: true },
  });
  return found && { kind: found.kind, marks: readMarks(found.marks) };
}

/** Puts the marks in place of those that were there. */
export async function storeMarks(
  db: Queryable,
  id: string,
  runId: string,
  marks: readonly PhotoMark[],
): Promise<boolean> {
  const { count } = await db.evidenceFile.updateMany({
    where: { id, runId, removedAt: null },
    data: { marks: asJson(marks) },
  });
  return count === 1;
}

/** The ids of the photos that a revision was submitted with. */
export async function evidenceOfRevision(db: Queryable, revisionId: string): Promise<string[]> {
  const rows = await db.revisionEvidence.findMany({ where: { revisionId }, select: { evidenceId: true } });
  return rows.map(({ evidenceId }) => evidenceId);
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
      run: { select: { id: true, testerId: true, status: true, world: true } },
      revisions: {
        select: {
          revision: { select: { number: true, run: { select: { id: true, approvedRevision: true } } } },
        },
      },
    },
  });
}
