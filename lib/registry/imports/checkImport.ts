import { z } from 'zod';
import { type ImportReport, type ImportState, sheetReadingSchema } from '@/lib/capture/sheet/importReport';
import type { SheetTable } from '@/lib/capture/sheet/table';
import { Conflict } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import { updateImport } from '@/lib/store/imports';
import { enqueueJob } from '@/lib/store/jobs';
import type { Registry } from '../registry';
import { importedTable, ownImport } from './ownImport';
import { CHECK_IMPORT_JOB } from './startImport';
import { proposedReading } from './uploadImport';

export const checkImportSchema = z.object({ importId: z.uuid(), reading: sheetReadingSchema });

const OPEN_STATES: readonly ImportState[] = ['mapping', 'checked'];

/** Asks for the dry run: the background reads the sheet as told and keeps what each row would do (dryRunImport.ts). */
export async function checkImport(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { importId, reading } = parseInput(checkImportSchema, input);
  const own = await ownImport(registry, actor, importId);
  if (!OPEN_STATES.includes(own.report.state)) throw moved();
  const report: ImportReport = {
    ...own.report,
    state: 'checking',
    reading,
    mappingProblems: [],
    rows: [],
  };
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    if (!(await updateImport(tx, importId, own.report.state, { report }))) throw moved();
    await enqueueJob(tx, CHECK_IMPORT_JOB, importId, at);
    await appendAudit(tx, { ...step(own.actor, importId, at), action: 'import.check' });
  });
}

const ENDED_STATES: readonly ImportState[] = ['undone', 'stopped'];

/** An import that was taken back, checked anew as it was read: its drafts wait, and are sent if it is done again. */
export async function takeUpImport(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { importId } = parseInput(z.object({ importId: z.uuid() }), input);
  const own = await ownImport(registry, actor, importId);
  const { state } = own.report;
  if (!ENDED_STATES.includes(state)) throw moved();
  const report: ImportReport = {
    ...own.report,
    state: 'checking',
    rows: [],
    rowsDone: 0,
    withdrawn: 0,
    kept: [],
    isStopped: false,
  };
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    if (!(await updateImport(tx, importId, state, { report, undoneAt: null }))) throw moved();
    await enqueueJob(tx, CHECK_IMPORT_JOB, importId, at);
    await appendAudit(tx, { ...step(own.actor, importId, at), action: 'import.check' });
  });
}

/** Takes another sheet of the same workbook, or other headings in it, with a proposal of columns of their own. */
export async function chooseSheet(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { importId, ...asked } = parseInput(
    z.object({
      importId: z.uuid(),
      sheetName: z.string().max(100).optional(),
      headingRow: z.coerce.number().int().min(1).max(100_000).nullable().default(null),
    }),
    input,
  );
  const own = await ownImport(registry, actor, importId);
  const sheetName = asked.sheetName ?? own.report.sheetName;
  // Rows of another sheet are counted anew.
  const headingRow = sheetName === own.report.sheetName ? asked.headingRow : null;
  const chosen: ImportReport = {
    ...own.report,
    sheetName,
    headingRow,
    rows: [],
    mappingProblems: [],
    state: 'mapping',
  };
  const table = await openTable(registry, { ...chosen, state: own.report.state });
  const reading = await proposedReading(registry, own.actor.accountId, table);
  const data = { report: { ...chosen, reading }, rowsRead: table.rows.length, rowsRefused: 0 };
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    if (!(await updateImport(tx, importId, own.report.state, data))) throw moved();
    await appendAudit(tx, {
      ...step(own.actor, importId, at),
      action: 'import.chooseSheet',
      details: { sheetName, headingRow },
    });
  });
}

function step(actor: Actor, importId: string, at: Date) {
  return { at, actorId: actor.accountId, subjectKind: 'import', subjectId: importId };
}

function openTable(registry: Registry, report: ImportReport): Promise<SheetTable> {
  if (!OPEN_STATES.includes(report.state)) throw moved();
  return importedTable(registry, report);
}

function moved(): Conflict {
  return new Conflict('This import has gone on in another window. Reload to see where it stands.');
}
