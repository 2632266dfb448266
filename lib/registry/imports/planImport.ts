import { createHash } from 'node:crypto';
import { withCarriedDates } from '@/lib/capture/sheet/carriedDates';
import { dryRun, type RowOutcome } from '@/lib/capture/sheet/dryRun';
import { habitsOf } from '@/lib/capture/sheet/habits';
import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import { type ImportCar, type ImportNames, plainName } from '@/lib/capture/sheet/importNames';
import type { PlannedRow, RowVerdict, SheetReading } from '@/lib/capture/sheet/importReport';
import { type ImportedRun, importRowParser } from '@/lib/capture/sheet/parseImportRow';
import { cellReader } from '@/lib/capture/sheet/readCells';
import type { SheetTable } from '@/lib/capture/sheet/table';
import { sheetWords, WordMeanings, wordsMeant } from '@/lib/capture/sheet/words';
import { contentFingerprint } from '@/lib/protocol/duplicates';
import { unitFieldName } from '@/lib/run/numberField';
import type { Actor } from '@/lib/run/roles';
import { isStorableText } from '@/lib/run/storableText';
import { carsForImport, loopsNamed, runsByCreationKeys, runsWithContents } from '@/lib/store/imports';
import type { Registry } from '../registry';
import { judgeRows } from './judgeRows';

/** The run that a row is already, by the row's key or by its content. */
export interface RowMatch {
  runNumber: number;
  importBatchId: string | null;
}

/** The key under which a row's run is made: by the file's content, so that bringing it again makes nothing twice. */
export function rowCreationKey(sha256: string, sheetName: string | null, row: number): string {
  const sheet = createHash('sha256')
    .update(sheetName ?? '')
    .digest('hex')
    .slice(0, 8);
  return `import-${sha256.slice(0, 40)}-${sheet}-${row}`;
}

export function contentHashOf(run: ImportedRun): string {
  return createHash('sha256').update(contentFingerprint(run.record)).digest('hex');
}

/** The tester's cars, and of all loops those that the sheet names. */
export async function importNames(
  registry: Registry,
  testerId: string,
  table: SheetTable,
  reading: SheetReading,
): Promise<ImportNames> {
  const names = loopNamesIn(table, reading);
  const [cars, loops] = await Promise.all([
    importCars(registry, testerId),
    loopsNamed(registry.db, { names, plainNames: [...new Set(names.map(plainName))] }),
  ]);
  return { cars, loops };
}

export async function importCars(registry: Registry, testerId: string): Promise<ImportCar[]> {
  const cars = await carsForImport(registry.db, testerId);
  return cars.map(({ id, name, model }) => ({
    id,
    name,
    setups: model.setups.map((setup) => ({ id: setup.id, name: setup.title })),
  }));
}

const LOOP_FIELD = IMPORT_FIELDS.find(({ holds }) => holds === 'loop')?.name;

/** Each once, without what no name of a loop can be. */
function loopNamesIn(table: SheetTable, { columns, given, words }: SheetReading): string[] {
  const column = columns.find(({ field }) => field === LOOP_FIELD)?.column;
  const cells = column === undefined ? [] : table.rows.map((row) => row.cells[column] ?? '');
  const meant = words.flatMap(({ field, value }) => (field === LOOP_FIELD ? [value] : []));
  const all = LOOP_FIELD === undefined ? cells : [given[LOOP_FIELD] ?? '', ...meant, ...cells];
  return [...new Set(all)].filter((name) => name.trim() !== '' && isStorableText(name));
}

/**
 * Every row parsed as the form would be, refused with its cells where it cannot be; nothing is looked up yet. Of a part
 * of the rows too, the whole table tells how its numbers and dates are written.
 */
export function parseSheetRows(
  asSent: SheetTable,
  reading: SheetReading,
  names: ImportNames,
  now: string,
  part: SheetTable['rows'] = asSent.rows,
) {
  const { columns, given, words: said } = reading;
  const table = reading.blankDates === 'carried' ? withCarriedDates(asSent, columns) : asSent;
  const wanted = new Set(part.map(({ rowNumber }) => rowNumber));
  const rows = table.rows.filter(({ rowNumber }) => wanted.has(rowNumber));
  const habits = habitsOf(table, columns, IMPORT_FIELDS, reading);
  const words = sheetWords(table, columns, IMPORT_FIELDS, names, said);
  const parsed = dryRun(
    { ...table, rows },
    {
      fields: IMPORT_FIELDS,
      mapping: columns,
      given,
      unitFieldName,
      readCell: cellReader(IMPORT_FIELDS, habits, new WordMeanings(wordsMeant(words))),
      parse: importRowParser(names, now),
      keyOf: (run) => contentFingerprint(run.record),
    },
  );
  if (habits.problems.length === 0) return parsed;
  const problems = [...habits.problems, ...(parsed.ok ? [] : parsed.problems)];
  return { ok: false as const, problems };
}

/** Which of these rows are runs already; drafts are not, they wait to be sent. */
export async function matchRows(
  registry: Registry,
  testerId: string,
  file: { sha256: string; sheetName: string | null },
  rows: readonly RowOutcome<ImportedRun>[],
): Promise<Map<number, RowMatch>> {
  const made = rows.flatMap((row) => (row.outcome === 'refused' ? [] : [row]));
  const keyOf = (row: number) => rowCreationKey(file.sha256, file.sheetName, row);
  const hashes = new Map(made.map(({ rowNumber, value }) => [rowNumber, contentHashOf(value)]));
  const [byKey, byContent] = await Promise.all([
    runsByCreationKeys(
      registry.db,
      testerId,
      made.map(({ rowNumber }) => keyOf(rowNumber)),
    ),
    runsWithContents(registry.db, [...hashes.values()]),
  ]);
  const sent = new Map(byKey.filter((run) => run.status !== 'draft').map((run) => [run.creationKey, run]));
  const matches = new Map<number, RowMatch>();
  for (const { rowNumber } of made) {
    const own = sent.get(keyOf(rowNumber));
    const same = byContent.get(hashes.get(rowNumber) ?? '');
    if (own !== undefined) {
      matches.set(rowNumber, { runNumber: own.number, importBatchId: own.importBatchId });
    } else if (same !== undefined) {
      matches.set(rowNumber, { runNumber: same, importBatchId: null });
    }
  }
  return matches;
}

/** What importing would do with each row, for the page and for the report; the first rows judged as if sent. */
export async function planImport(
  registry: Registry,
  tester: Actor,
  file: { sha256: string; sheetName: string | null },
  table: SheetTable,
  reading: SheetReading,
): Promise<{ ok: true; rows: PlannedRow[] } | { ok: false; problems: { field: string; message: string }[] }> {
  const names = await importNames(registry, tester.accountId, table, reading);
  const parsed = parseSheetRows(table, reading, names, registry.now().toISOString());
  if (!parsed.ok) return { ok: false, problems: parsed.problems.map((problem) => ({ ...problem })) };
  const matches = await matchRows(registry, tester.accountId, file, parsed.rows);
  const made = parsed.rows.flatMap((row) =>
    row.outcome === 'refused' || matches.has(row.rowNumber) ? [] : [row],
  );
  const verdicts = await judgeRows(registry, tester, made);
  return {
    ok: true,
    rows: parsed.rows.map((row) => withVerdict(plannedRow(row, matches, names), verdicts)),
  };
}

/** Rows of a page that the check did not come to, judged now. */
export async function judgedRows(
  registry: Registry,
  tester: Actor,
  table: SheetTable,
  reading: SheetReading,
  planned: readonly PlannedRow[],
): Promise<PlannedRow[]> {
  const open = new Set(
    planned.flatMap((row) => (row.outcome === 'create' && row.verdict === undefined ? [row.row] : [])),
  );
  if (open.size === 0) return [...planned];
  const part = { ...table, rows: table.rows.filter(({ rowNumber }) => open.has(rowNumber)) };
  const names = await importNames(registry, tester.accountId, part, reading);
  const parsed = parseSheetRows(table, reading, names, registry.now().toISOString(), part.rows);
  if (!parsed.ok) return [...planned];
  const made = parsed.rows.flatMap((row) => (row.outcome === 'refused' ? [] : [row]));
  const verdicts = await judgeRows(registry, tester, made);
  return planned.map((row) => withVerdict(row, verdicts));
}

function withVerdict(row: PlannedRow, verdicts: ReadonlyMap<number, RowVerdict>): PlannedRow {
  const verdict = verdicts.get(row.row);
  return row.outcome === 'create' && verdict !== undefined ? { ...row, verdict } : row;
}

function plannedRow(
  row: RowOutcome<ImportedRun>,
  matches: ReadonlyMap<number, RowMatch>,
  names: ImportNames,
): PlannedRow {
  if (row.outcome === 'refused') {
    return {
      outcome: 'refused',
      row: row.rowNumber,
      problems: row.problems.map(({ cell, path, message }) => ({ cell, path, message })),
    };
  }
  const what = rowWords(row.value, names);
  const match = matches.get(row.rowNumber);
  return match === undefined
    ? { outcome: 'create', row: row.rowNumber, what }
    : { outcome: 'matched', row: row.rowNumber, what, runNumber: match.runNumber };
}

function rowWords({ form, record }: ImportedRun, names: ImportNames): string {
  const car = names.cars.find(({ id }) => id === record.carId);
  const setup = car?.setups.find(({ id }) => id === record.setupId);
  const loop = names.loops.find(({ id }) => id === record.loopId);
  const start = (form.startedAtLocal ?? '').slice(0, 16).replace('T', ' ');
  return [start, car?.name, setup?.name, loop?.name].join(' · ');
}
