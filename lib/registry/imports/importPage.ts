import { authorise } from '@/lib/access/authorise';
import { IMPORT_FIELDS, type ImportField } from '@/lib/capture/sheet/importFields';
import type { ImportCar } from '@/lib/capture/sheet/importNames';
import {
  countRows,
  type ImportState,
  type PlannedRow,
  type RowCounts,
  type SheetReading,
} from '@/lib/capture/sheet/importReport';
import { columnLetters, type SheetTable } from '@/lib/capture/sheet/table';
import { writeCsv } from '@/lib/capture/sheet/writeSheet';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { RUN_SECTIONS } from '@/lib/run/fields/sections';
import { CHOICE_FIELDS } from '@/lib/run/fields/table';
import { dateText } from '@/lib/run/localDate';
import type { Actor } from '@/lib/run/roles';
import { RUN_STATUS_LABELS, type RunStatus } from '@/lib/run/runStatus';
import { importProgress, importsOf, loopsForImport } from '@/lib/store/imports';
import { latestJob } from '@/lib/store/jobs';
import { UNITS, type UnitCode } from '@/lib/units/unit';
import type { Registry } from '../registry';
import { importedTable, ownImport } from './ownImport';
import { importCars } from './planImport';
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

export interface Option {
  value: string;
  label: string;
}

/** One field of the mapper: where it comes from now and what it could come from. */
export interface MappedField {
  name: string;
  label: string;
  isRequired: boolean;
  /** Chosen column, from 0; none when nothing feeds it. */
  column: number | undefined;
  unit: string | undefined;
  units: Option[];
  /** What holds for all rows. */
  given: string;
  /** Where one of a few values can hold for all rows. */
  givenOptions: Option[] | undefined;
  problem: string | undefined;
}

export interface SheetColumn {
  index: number;
  letters: string;
  heading: string;
  samples: string[];
}

export interface ImportMapper {
  sections: { key: string; label: string; fields: MappedField[] }[];
  columns: SheetColumn[];
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
  /** Rows of the chosen outcome, one page of them. */
  rows: PlannedRow[];
  page: number;
  pageCount: number;
  withdrawn: number;
  kept: { runNumber: number; status: string }[];
  /** The background gave up on an error and can be asked again. */
  hasFailed: boolean;
}

const ROWS_A_PAGE = 100;
const MOST_OFFERED = 100;

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
  const filtered = report.rows.filter((row) => !shown.outcome || row.outcome === shown.outcome);
  const pageCount = Math.max(1, Math.ceil(filtered.length / ROWS_A_PAGE));
  const page = Math.min(Math.max(1, shown.page ?? 1), pageCount);
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
    mapper: isOpen
      ? mapperOf(await importedTable(registry, report), report.reading, report.mappingProblems, {
          cars: await importCars(registry, own.actor.accountId),
          loops: await loopsForImport(registry.db, MOST_OFFERED + 1),
        })
      : undefined,
    rows: filtered.slice((page - 1) * ROWS_A_PAGE, page * ROWS_A_PAGE),
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

interface OfferedNames {
  cars: readonly ImportCar[];
  loops: readonly { name: string }[];
}

function mapperOf(
  table: SheetTable,
  reading: SheetReading,
  problems: readonly { field: string; message: string }[],
  names: OfferedNames,
): ImportMapper {
  const fieldOf = (field: ImportField): MappedField => {
    const choice = reading.columns.find((one) => one.field === field.name);
    return {
      name: field.name,
      label: field.label,
      isRequired: field.isRequired,
      column: choice?.column,
      unit: choice?.unit,
      units: (field.units ?? []).map((unit: UnitCode) => ({ value: unit, label: UNITS[unit].symbol })),
      given: reading.given[field.name] ?? '',
      givenOptions: givenOptions(field, names),
      problem: problems.find((problem) => problem.field === field.name)?.message,
    };
  };
  return {
    sections: RUN_SECTIONS.map(({ key, label }) => ({
      key,
      label,
      fields: IMPORT_FIELDS.filter((field) => field.section === key).map(fieldOf),
    })).filter(({ fields }) => fields.length > 0),
    columns: table.header.cells.map((heading, index) => ({
      index,
      letters: columnLetters(index),
      heading,
      samples: table.rows.slice(0, 3).map(({ cells }) => cells[index] ?? ''),
    })),
  };
}

function givenOptions(field: ImportField, names: OfferedNames): Option[] | undefined {
  const byName = (things: readonly { name: string }[]) =>
    [...new Set(things.map(({ name }) => name))].map((name) => ({ value: name, label: name }));
  switch (field.holds) {
    case 'car':
      return byName(names.cars);
    case 'setup':
      return byName(names.cars.flatMap(({ setups }) => setups));
    case 'loop':
      // Of more than a list is readable with, the name is typed.
      return names.loops.length > MOST_OFFERED ? undefined : byName(names.loops);
    case 'cruiseClass':
      return CRUISE_CLASSES.map(({ key, label }) => ({ value: key, label }));
    case 'choice':
      return choiceOptions(field.name);
    default:
      return undefined;
  }
}

function choiceOptions(name: string): Option[] {
  const field = CHOICE_FIELDS.find((one) => one.name === name);
  return (field?.options ?? []).map(({ value, label }) => ({ value, label }));
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
