import { authorise } from '@/lib/access/authorise';
import { type ImportMapper, MOST_OFFERED, mapperOf } from '@/lib/capture/sheet/importMapper';
import {
  countJudged,
  countRows,
  failsRules,
  type ImportReport,
  type ImportState,
  type JudgedRows,
  type PlannedRow,
  type RepeatedFault,
  type RowCounts,
  repeatedFaults,
} from '@/lib/capture/sheet/importReport';
import { writeCsv } from '@/lib/capture/sheet/writeSheet';
import { dateText } from '@/lib/run/localDate';
import type { Actor } from '@/lib/run/roles';
import { RUN_STATUS_LABELS, type RunStatus } from '@/lib/run/runStatus';
import { importProgress, importsOf, loopsForImport } from '@/lib/store/imports';
import { latestJob } from '@/lib/store/jobs';
import type { Registry } from '../registry';
import { importedTable, ownImport } from './ownImport';
import { importNames, judgedRows } from './planImport';
import { JOB_OF_STATE } from './startImport';

export interface ImportSummary {
  id: string;
  fileName: string;
  /** Undefined where what is stored cannot be read. */
  state: ImportState | undefined;
  stateWords: string;
  rowsRead: number;
  rowsMade: number;
  date: string;
}

export const IMPORT_STATE_WORDS: Readonly<Record<ImportState, string>> = {
  mapping: 'Columns to assign',
  checking: 'Being checked',
  checked: 'Checked, not imported',
  running: 'Importing',
  done: 'Imported',
  stopped: 'Stopped, nothing imported',
  undoing: 'Being taken back',
  undone: 'Taken back',
};

const LISTED = 20;

/** A tester's latest imports. */
export async function myImports(registry: Registry, actor: Actor | undefined): Promise<ImportSummary[]> {
  authorise(actor, 'recordRun');
  const batches = await importsOf(registry.db, actor.accountId, LISTED);
  return batches.map((batch) => ({
    id: batch.id,
    fileName: batch.fileName,
    state: batch.state,
    stateWords: batch.state === undefined ? 'Not readable' : IMPORT_STATE_WORDS[batch.state],
    rowsRead: batch.rowsRead,
    rowsMade: batch.rowsMade,
    date: dateText(batch.createdAt),
  }));
}

export interface ImportPageView {
  id: string;
  fileName: string;
  state: ImportState;
  stateWords: string;
  mode: string;
  sheetName: string | undefined;
  sheetNames: string[];
  rowsRead: number;
  rowsMade: number;
  rowsDone: number;
  counts: RowCounts;
  /** Only while columns can still be assigned. */
  mapper: ImportMapper | undefined;
  /** What is at fault in the same way in several rows, most rows first. */
  repeated: RepeatedFault[];
  /** What the rules said of the rows that the check held against them. */
  judged: JudgedRows;
  /** Rows that failed a rule when their turn came and are drafts. */
  drafts: number;
  /** Rows of the chosen outcome, one page of them. */
  rows: PlannedRow[];
  page: number;
  pageCount: number;
  withdrawn: number;
  kept: { runNumber: number; status: string }[];
  /** The background gave up on an error and can be asked again. */
  hasFailed: boolean;
}

const ROWS_A_PAGE = 50;

/** One import as its page shows it, for its tester only. */
export async function importPage(
  registry: Registry,
  actor: Actor | undefined,
  importId: string,
  shown: { outcome?: string; page?: number } = {},
): Promise<ImportPageView> {
  const own = await ownImport(registry, actor, importId);
  const { batch, report } = own;
  const isOpen = report.state === 'mapping' || report.state === 'checked';
  const job = JOB_OF_STATE.get(report.state);
  const filtered = report.rows.filter((row) => isOfOutcome(row, shown.outcome));
  const pageCount = Math.max(1, Math.ceil(filtered.length / ROWS_A_PAGE));
  const page = Math.min(Math.max(1, shown.page ?? 1), pageCount);
  const rows = filtered.slice((page - 1) * ROWS_A_PAGE, page * ROWS_A_PAGE);
  return {
    id: batch.id,
    fileName: batch.fileName,
    state: report.state,
    stateWords: IMPORT_STATE_WORDS[report.state],
    mode: batch.mode,
    sheetName: report.sheetName ?? undefined,
    sheetNames: report.sheetNames,
    rowsRead: batch.rowsRead,
    rowsMade: batch.rowsMade,
    rowsDone: report.rowsDone,
    counts: countRows(report.rows),
    mapper: isOpen ? await openMapper(registry, own.actor.accountId, report) : undefined,
    repeated: repeatedFaults(report.rows),
    judged: countJudged(report.rows),
    drafts: report.rows.filter((row) => row.outcome === 'create' && row.isDraft).length,
    rows: report.state === 'checked' ? await shownVerdicts(registry, own, rows) : rows,
    page,
    pageCount,
    withdrawn: report.withdrawn,
    kept: report.kept.map(({ runNumber, status }) => ({
      runNumber,
      status: RUN_STATUS_LABELS[status as RunStatus],
    })),
    hasFailed: job !== undefined && (await latestJob(registry.db, job, batch.id))?.state === 'failed',
  };
}

function isOfOutcome(row: PlannedRow, outcome: string | undefined): boolean {
  if (outcome === 'failing')
    return row.outcome === 'create' && row.verdict !== undefined && failsRules(row.verdict);
  return !outcome || row.outcome === outcome;
}

/** A long sheet is judged in part by the check; the rest of it page by page, as it is looked at. */
async function shownVerdicts(
  registry: Registry,
  { actor, report }: Awaited<ReturnType<typeof ownImport>>,
  rows: PlannedRow[],
): Promise<PlannedRow[]> {
  if (!rows.some((row) => row.outcome === 'create' && row.verdict === undefined)) return rows;
  return judgedRows(registry, actor, await importedTable(registry, report), report.reading, rows);
}

async function openMapper(registry: Registry, testerId: string, report: ImportReport): Promise<ImportMapper> {
  const table = await importedTable(registry, report);
  const [named, offered] = await Promise.all([
    importNames(registry, testerId, table, report.reading),
    loopsForImport(registry.db, MOST_OFFERED + 1),
  ]);
  const known = new Set(named.loops.map(({ id }) => id));
  const loops = [...named.loops, ...offered.filter(({ id }) => !known.has(id))];
  return mapperOf(table, report.reading, report.mappingProblems, { cars: named.cars, loops });
}

export interface ImportProgress {
  state: ImportState;
  rowsRead: number;
  rowsMade: number;
  rowsDone: number;
  withdrawn: number;
}

/** How far the background is: small, because it is asked for every other second. */
export async function progressOfImport(
  registry: Registry,
  actor: Actor | undefined,
  importId: string,
): Promise<ImportProgress | undefined> {
  const progress = await importProgress(registry.db, importId);
  if (progress === undefined) return undefined;
  const { byId, state, ...counts } = progress;
  authorise(actor, 'editRun', byId);
  return state && { state, ...counts };
}

/** Every row that makes no run, a line a fault, as CSV that is safe to open in a spreadsheet program. */
export async function importFaults(
  registry: Registry,
  actor: Actor | undefined,
  importId: string,
): Promise<string> {
  const { report } = await ownImport(registry, actor, importId);
  const lines = report.rows.flatMap((row) => {
    if (row.outcome === 'matched') return [[row.row, '', 'matched', `Is run ${row.runNumber} already.`]];
    if (row.outcome === 'create') return [];
    return row.problems.map(({ cell, message }) => [row.row, cell, 'refused', message]);
  });
  return writeCsv(['Row', 'Cell', 'Outcome', 'Reason'], lines);
}
