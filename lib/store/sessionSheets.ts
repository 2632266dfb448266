import { dateText, midnightUtc } from '@/lib/run/localDate';
import type { RunForm } from '@/lib/run/runForm';
import { readForm } from '@/lib/run/stored';
import type { Queryable } from './database';

const COLUMNS = {
  id: true,
  testerId: true,
  localDate: true,
  shared: true,
  version: true,
} as const;

export interface StoredSheet {
  id: string;
  testerId: string;
  /** The day at the loop, yyyy-mm-dd. */
  localDate: string;
  shared: RunForm;
  version: number;
}

function sheetFrom(
  row: { id: string; testerId: string; localDate: Date; shared: unknown; version: number } | null,
): StoredSheet | null {
  return row && { ...row, localDate: dateText(row.localDate), shared: readForm(row.shared) };
}

export async function sheetById(db: Queryable, id: string): Promise<StoredSheet | null> {
  return sheetFrom(await db.sessionSheet.findUnique({ where: { id }, select: COLUMNS }));
}

export async function sheetByCreationKey(
  db: Queryable,
  testerId: string,
  creationKey: string,
): Promise<StoredSheet | null> {
  const where = { testerId_creationKey: { testerId, creationKey } };
  return sheetFrom(await db.sessionSheet.findUnique({ where, select: COLUMNS }));
}

/** More sheets of one day than anybody opens. */
const MOST_OF_DAY = 20;

/** A tester's sheets of one day, the latest first. */
export async function sheetsOfDay(db: Queryable, testerId: string, localDate: string) {
  const rows = await db.sessionSheet.findMany({
    where: { testerId, localDate: midnightUtc(localDate) },
    orderBy: { id: 'desc' },
    take: MOST_OF_DAY,
    select: { id: true, shared: true },
  });
  return rows.map(({ id, shared }) => ({ id, shared: readForm(shared) }));
}

export function insertSheet(
  db: Queryable,
  sheet: { testerId: string; creationKey: string; localDate: string; shared: RunForm; at: Date },
) {
  const { testerId, creationKey, localDate, shared, at } = sheet;
  return db.sessionSheet.create({
    data: { testerId, creationKey, localDate: midnightUtc(localDate), shared, savedAt: at, createdAt: at },
    select: { id: true },
  });
}

/** Saves only over the version that the writer has seen; false when someone else saved in between. */
export async function updateSheet(
  db: Queryable,
  id: string,
  seenVersion: number,
  shared: RunForm,
  at: Date,
): Promise<boolean> {
  const { count } = await db.sessionSheet.updateMany({
    where: { id, version: seenVersion },
    data: { shared, version: { increment: 1 }, savedAt: at },
  });
  return count === 1;
}

/** The runs noted on a sheet, in the order in which they were begun. */
export async function runsOfSheet(db: Queryable, sheetId: string, take: number) {
  const runs = await db.run.findMany({
    where: { sheetId },
    orderBy: { number: 'asc' },
    take,
    select: {
      id: true,
      number: true,
      status: true,
      draft: true,
      draftVersion: true,
      begunForStudyId: true,
    },
  });
  return runs.map(({ draft, ...run }) => ({ ...run, form: readForm(draft) }));
}

/** Puts a run that stands on no sheet yet beside the others; its readings are not touched. */
export async function placeOnSheet(db: Queryable, runId: string, sheetId: string): Promise<boolean> {
  const { count } = await db.run.updateMany({ where: { id: runId, sheetId: null }, data: { sheetId } });
  return count === 1;
}

export async function sheetOfRun(db: Queryable, runId: string): Promise<string | undefined> {
  return (await db.run.findUnique({ where: { id: runId }, select: { sheetId: true } }))?.sheetId ?? undefined;
}

/** A tester's latest days with how many runs are noted on each. */
export async function latestSheets(db: Queryable, testerId: string, take: number) {
  const sheets = await db.sessionSheet.findMany({
    where: { testerId },
    orderBy: [{ localDate: 'desc' }, { id: 'desc' }],
    take,
    select: { ...COLUMNS, creationKey: true, _count: { select: { runs: true } } },
  });
  return sheets.map((sheet) => ({
    id: sheet.id,
    creationKey: sheet.creationKey,
    version: sheet.version,
    localDate: dateText(sheet.localDate),
    shared: readForm(sheet.shared),
    runs: sheet._count.runs,
  }));
}
