import { countRows, type ImportReport, type PlannedRow } from '@/lib/capture/sheet/importReport';
import type { ImportedRun } from '@/lib/capture/sheet/parseImportRow';
import { cellReference, type SheetTable } from '@/lib/capture/sheet/table';
import { Conflict, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import {
  countSentOfImport,
  importById,
  markImported,
  sentRunsOfImport,
  setRowsMade,
  updateImport,
} from '@/lib/store/imports';
import { enqueueJob } from '@/lib/store/jobs';
import { openSuspensionOf } from '@/lib/store/suspensions';
import type { Registry } from '../registry';
import { withdrawRun } from '../runs/retractRun';
import { startDraft } from '../runs/startDraft';
import { FailsRules, submitRun } from '../runs/submitRun';
import { importedTable, type OwnImport, testerOfImport } from './ownImport';
import { importNames, matchRows, parseSheetRows, rowCreationKey } from './planImport';
import { IMPORT_JOB } from './startImport';

/** A pass of the job: short enough to let other work in between, and to lose little when the process dies. */
const ROWS_A_PASS = 200;
const ROWS_A_PROGRESS = 10;

/** The job of one import: one pass of making runs, or of taking them back; asks for the next pass itself. */
export async function runImport(registry: Registry, importId: string): Promise<void> {
  const batch = await importById(registry.db, importId);
  if (batch === null) throw new NotFound(`no import ${importId}`);
  const { report } = batch;
  if (report === undefined) throw new Error(`the report of import ${importId} cannot be read`);
  const actor = await testerOfImport(registry, batch.byId);
  // Suspended since: what is left of its rows is refused, each with the reason. What is taken back counts nowhere.
  const suspension = await openSuspensionOf(registry.db, actor.accountId);
  const maker: Actor = suspension === undefined ? actor : { ...actor, role: 'reader', suspension };
  if (report.state === 'running') await makeRuns(registry, maker, { batch, report });
  if (report.state === 'undoing') await takeBack(registry, actor, { batch, report });
}

async function makeRuns(registry: Registry, actor: Actor, { batch, report }: OwnImport): Promise<void> {
  const table = await importedTable(registry, report);
  const planned = report.rows.slice(report.rowsDone, report.rowsDone + ROWS_A_PASS);
  const settled = await makePass(registry, actor, { batch, report }, table, planned);
  const rows = report.rows.map((row) => settled.get(row.row) ?? row);
  const rowsDone = report.rowsDone + planned.length;
  const isStopped = batch.mode === 'all' && countRows(rows).refused > 0;
  const isOver = rowsDone >= rows.length;
  const next: ImportReport = {
    ...report,
    rows,
    rowsDone,
    isStopped,
    state: isStopped ? 'undoing' : isOver ? 'done' : 'running',
  };
  const undoneAt = isStopped ? { undoneAt: registry.now() } : {};
  // Where it stands and who goes on with it change together: broken off in between, an import would stand still.
  await registry.db.$transaction(async (tx) => {
    const counts = {
      rowsMade: await countSentOfImport(tx, batch.id),
      rowsRefused: countRows(rows).refused,
    };
    // Not moved: an undo came in between, whose own job does the rest.
    const moved = await updateImport(tx, batch.id, 'running', { report: next, ...counts, ...undoneAt });
    if (moved && next.state !== 'done') await enqueueJob(tx, IMPORT_JOB, batch.id, registry.now());
  });
}

/** Makes the runs of some rows; what became of a row that was planned otherwise is given back. */
async function makePass(
  registry: Registry,
  actor: Actor,
  { batch, report }: OwnImport,
  table: SheetTable,
  planned: readonly PlannedRow[],
): Promise<Map<number, PlannedRow>> {
  const settled = new Map<number, PlannedRow>();
  const wanted = new Map(
    planned.flatMap((row) => (row.outcome === 'create' ? [[row.row, row] as const] : [])),
  );
  const part = { ...table, rows: table.rows.filter(({ rowNumber }) => wanted.has(rowNumber)) };
  const names = await importNames(registry, actor.accountId, part, report.reading);
  const parsed = parseSheetRows(table, report.reading, names, registry.now().toISOString(), part.rows);
  if (!parsed.ok) throw new InvalidInput([]);
  const matches = await matchRows(registry, actor.accountId, report, parsed.rows);
  // Counted, not remembered: a pass that was broken off has made some of its runs.
  let made = await countSentOfImport(registry.db, batch.id);
  for (const row of parsed.rows) {
    const { rowNumber } = row;
    const match = matches.get(rowNumber);
    if (row.outcome === 'refused') {
      settled.set(rowNumber, { outcome: 'refused', row: rowNumber, problems: [...row.problems] });
    } else if (match === undefined) {
      const became = await makeRun(registry, actor, row.value, {
        importId: batch.id,
        creationKey: rowCreationKey(report.sha256, report.sheetName, rowNumber),
        unlessFails: report.failing === 'draft',
      });
      const plan = wanted.get(rowNumber);
      if (became === 'sent') made += 1;
      else if (became !== 'draft') settled.set(rowNumber, refusedRow(rowNumber, became.refusal));
      else if (plan?.outcome === 'create') settled.set(rowNumber, { ...plan, isDraft: true });
      if (made % ROWS_A_PROGRESS === 0) {
        await registry.db.$transaction((tx) => setRowsMade(tx, batch.id, made));
      }
    } else if (match.importBatchId !== batch.id) {
      const what = wanted.get(rowNumber)?.what ?? '';
      settled.set(rowNumber, { outcome: 'matched', row: rowNumber, what, runNumber: match.runNumber });
    }
  }
  return settled;
}

/**
 * Draft and submission of one row through the same use cases as the form; says why not where it is refused. A draft it
 * stays where a rule fails and the tester did not want such rows sent.
 */
async function makeRun(
  registry: Registry,
  actor: Actor,
  { form }: ImportedRun,
  { importId, creationKey, unlessFails }: { importId: string; creationKey: string; unlessFails: boolean },
): Promise<'sent' | 'draft' | { refusal: string }> {
  try {
    const { runId, draftVersion } = await startDraft(registry, actor, { creationKey, form });
    await registry.db.$transaction((tx) => markImported(tx, runId, importId));
    await submitRun(registry, actor, { runId, draftVersion, form, unlessFails });
    return 'sent';
  } catch (error) {
    if (error instanceof FailsRules) return 'draft';
    if (error instanceof InvalidInput)
      return { refusal: error.issues.map(({ what, fix }) => `${what} ${fix}`).join(' ') };
    if (error instanceof Conflict || error instanceof NotAllowed) return { refusal: error.message };
    throw error;
  }
}

function refusedRow(row: number, message: string): PlannedRow {
  return { outcome: 'refused', row, problems: [{ cell: cellReference(0, row), path: '', message }] };
}

async function takeBack(registry: Registry, actor: Actor, { batch, report }: OwnImport): Promise<void> {
  const sent = await sentRunsOfImport(registry.db, batch.id);
  const open = sent.filter(({ status }) => status === 'submitted');
  let withdrawn = report.withdrawn;
  for (const { id } of open.slice(0, ROWS_A_PASS)) {
    try {
      await withdrawRun(registry, actor, { runId: id });
      withdrawn += 1;
    } catch (error) {
      // Decided on a moment ago: it stays, and the last pass lists it.
      if (!(error instanceof Conflict)) throw error;
    }
  }
  const isOver = open.length <= ROWS_A_PASS;
  const kept = isOver ? await sentRunsOfImport(registry.db, batch.id) : [];
  const next: ImportReport = {
    ...report,
    withdrawn,
    kept: kept.map(({ number, status }) => ({ runNumber: number, status })),
    state: !isOver ? 'undoing' : report.isStopped ? 'stopped' : 'undone',
  };
  const counts = { rowsMade: isOver ? kept.length : sent.length };
  await registry.db.$transaction(async (tx) => {
    const moved = await updateImport(tx, batch.id, 'undoing', { report: next, ...counts });
    if (moved && !isOver) await enqueueJob(tx, IMPORT_JOB, batch.id, registry.now());
  });
}
