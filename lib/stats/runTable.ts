import type { FitRow } from './fitRow';
import { columnsOf, type RunColumns, RunColumnsBuilder } from './runColumns';

/** One thing wrong with a table of runs, told so that a person can mend it. */
export interface TableProblem {
  /** Line of the file, the header being line 1. */
  line: number;
  column: string;
  message: string;
}

export type Scale = 'log' | 'identity';

export interface RunTable {
  runs: RunColumns;
  /** Components without a column. */
  drop: ('car' | 'carLoop' | 'session')[];
  /** Model of each setup, where the table has a `model` column. */
  models: Map<string, string> | null;
  problems: TableProblem[];
}

const KNOWN = ['setup', 'car', 'session', 'value', 'u', 'loop', 'model', 'run'] as const;
const REQUIRED = ['setup', 'value'] as const;

/**
 * Reads runs from a table: columns `setup, value` and, where present, `car, session, u, loop, model, run`.
 * An absent `car`, `loop` or `session` column drops that component. On the log scale z = ln(value) and `u` is relative;
 * on the identity scale both are taken as they are. Other columns are ignored.
 *
 * @param records header first, one list of cells a line; `lines` gives each record's line in the file
 */
export function readRunTable(
  records: readonly (readonly string[])[],
  lines: readonly number[],
  scale: Scale,
): RunTable {
  const empty: RunTable = { runs: columnsOf([]), drop: [], models: null, problems: [] };
  const head = records[0];
  if (head === undefined) {
    return {
      ...empty,
      problems: [{ line: 1, column: '', message: 'the file is empty; give a header and one run a line' }],
    };
  }
  const names = head.map((name) => name.trim().toLowerCase());
  const problems: TableProblem[] = [];
  for (const name of REQUIRED) {
    if (!names.includes(name)) {
      problems.push({
        line: 1,
        column: name,
        message: `there is no column '${name}'; the columns are ${names.join(', ')}`,
      });
    }
  }
  for (const name of KNOWN) {
    if (names.filter((other) => other === name).length > 1) {
      problems.push({ line: 1, column: name, message: `the column '${name}' occurs twice; keep one` });
    }
  }
  if (problems.length > 0) return { ...empty, problems };
  const columns = { car: 'car', carLoop: 'loop', session: 'session' } as const;
  const drop = (['car', 'carLoop', 'session'] as const).filter((name) => !names.includes(columns[name]));
  const runs = new RunColumnsBuilder();
  const models = names.includes('model') ? new Map<string, string>() : null;
  records.slice(1).forEach((cells, i) => {
    const line = lines[i + 1] ?? i + 2;
    const cell = (name: string): string | undefined => {
      const at = names.indexOf(name);
      return at === -1 ? undefined : (cells[at] ?? '').trim();
    };
    const found = readRow(cell, line, scale, names);
    problems.push(...found.problems);
    if (found.row === null) return;
    runs.add(found.row);
    const model = cell('model');
    if (models === null || model === undefined) return;
    const known = models.get(found.row.setup);
    if (known !== undefined && known !== model) {
      const message = `setup '${found.row.setup}' was of model '${known}' above; one setup has one model`;
      problems.push({ line, column: 'model', message });
    }
    models.set(found.row.setup, known ?? model);
  });
  problems.push(...halfStatedUncertainty(records, lines, names.indexOf('u')));
  if (records.length === 1)
    problems.push({ line: 1, column: '', message: 'there are no runs under the header' });
  return { runs: runs.columns(), drop, models, problems };
}

/** Uncertainties stated for some runs only: the others would count as exact. */
function halfStatedUncertainty(
  records: readonly (readonly string[])[],
  lines: readonly number[],
  at: number,
): TableProblem[] {
  if (at === -1) return [];
  const silent = records.flatMap((cells, i) =>
    i > 0 && (cells[at] ?? '').trim() === '' ? [lines[i] ?? i + 1] : [],
  );
  if (silent.length === records.length - 1) return [];
  const message =
    'the uncertainty is missing here but given in other rows; give it for every run or for none';
  return silent.map((line) => ({ line, column: 'u', message }));
}

function readRow(
  cell: (name: string) => string | undefined,
  line: number,
  scale: Scale,
  names: readonly string[],
): { row: FitRow | null; problems: TableProblem[] } {
  const problems: TableProblem[] = [];
  const complain = (column: string, message: string) => problems.push({ line, column, message });
  for (const name of ['setup', 'car', 'session', 'loop', 'model', 'run'] as const) {
    if (names.includes(name) && cell(name) === '') complain(name, 'the cell is empty; fill it in');
  }
  const value = readNumber(cell('value') ?? '');
  if (value === null)
    complain('value', `'${cell('value')}' is not a number; write it with a point, as 182.4`);
  else if (scale === 'log' && value <= 0) {
    complain('value', `${value} has no logarithm; give a positive value or use --scale identity`);
  }
  const written = cell('u');
  const u = written === undefined || written === '' ? 0 : readNumber(written);
  if (u === null) complain('u', `'${written}' is not a number; write it with a point, as 0.008`);
  else if (u < 0) complain('u', `${u} is negative; a standard uncertainty is 0 or more`);
  if (problems.length > 0 || value === null || u === null) return { row: null, problems };
  const loop = cell('loop');
  const runId = cell('run');
  return {
    row: {
      setup: cell('setup') as string,
      car: cell('car') ?? 'all',
      session: cell('session') ?? 'all',
      z: scale === 'log' ? Math.log(value) : value,
      u,
      ...(loop === undefined ? {} : { loop }),
      ...(runId === undefined ? {} : { runId }),
    },
    problems,
  };
}

function readNumber(written: string): number | null {
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(written)) return null;
  const value = Number(written);
  return Number.isFinite(value) ? value : null;
}
