import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { parse } from 'csv-parse/sync';
import { fitGroup } from '@/lib/stats/fitGroup';
import { describeFit } from '@/lib/stats/fitText';
import { readRunTable, type Scale } from '@/lib/stats/runTable';

/**
 * `npm run fit -- runs.csv [--scale log|identity] [--text]`: fits a table of runs and prints the fit as JSON.
 * Exit codes: 0 fitted, 1 unreadable file or bad rows, 64 wrong usage.
 */
const EXIT = { ok: 0, badInput: 1, usage: 64 } as const;

const USAGE = `usage: npm run fit -- runs.csv [--scale log|identity] [--json | --text]

Columns: setup, value; and where present car, session, u, loop, model, run. An absent car, loop or
session column drops that component. u is the standard uncertainty of the value (relative on the log scale).

  --scale log       work on ln(value); differences are ratios (default)
  --scale identity  work on the value itself
  --json            print the whole fit as JSON (default): components, estimates, contrasts, ranks
  --text            print it as tables to read
`;

/** Most problems printed before the rest is only counted. */
const MOST_PROBLEMS = 20;

function readOptions(args: readonly string[]): { file: string; scale: Scale; asText: boolean } {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      scale: { type: 'string', default: 'log' },
      json: { type: 'boolean', default: false },
      text: { type: 'boolean', default: false },
    },
  });
  const [file, ...others] = positionals;
  if (file === undefined || others.length > 0) throw new TypeError('give one file');
  if (values.scale !== 'log' && values.scale !== 'identity') {
    throw new TypeError(`--scale is log or identity, not '${values.scale}'`);
  }
  if (values.json && values.text) throw new TypeError('--json or --text, not both');
  return { file, scale: values.scale, asText: values.text };
}

/** Reads the CSV into records with the line each one starts on. */
function readRecords(file: string): { records: string[][]; lines: number[] } {
  const text = readFileSync(file, 'utf8');
  const lines: number[] = [];
  const records = parse(text, {
    bom: true,
    relax_column_count: true,
    skip_empty_lines: true,
    on_record: (record: string[], context) => {
      lines.push(context.lines);
      return record;
    },
  });
  return { records, lines };
}

function run(args: readonly string[]): number {
  let options: ReturnType<typeof readOptions>;
  try {
    options = readOptions(args);
  } catch (error) {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n\n${USAGE}`);
    return EXIT.usage;
  }
  let source: ReturnType<typeof readRecords>;
  try {
    source = readRecords(options.file);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    process.stderr.write(`${options.file}: cannot be read: ${reason}\n`);
    return EXIT.badInput;
  }
  const table = readRunTable(source.records, source.lines, options.scale);
  if (table.problems.length > 0) {
    for (const problem of table.problems.slice(0, MOST_PROBLEMS)) {
      const column = problem.column === '' ? '' : `, column ${problem.column}`;
      process.stderr.write(`${options.file}: row ${problem.line}${column}: ${problem.message}\n`);
    }
    const rest = table.problems.length - MOST_PROBLEMS;
    if (rest > 0) process.stderr.write(`… and ${rest} more\n`);
    return EXIT.badInput;
  }
  const { models } = table;
  const fit = fitGroup(table.runs, {
    drop: table.drop,
    ...(models === null ? {} : { modelOf: (setup: string) => models.get(setup) ?? '' }),
  });
  process.stdout.write(
    options.asText
      ? describeFit(fit, options.scale)
      : `${JSON.stringify({ scale: options.scale, ...fit }, null, 2)}\n`,
  );
  return EXIT.ok;
}

process.exitCode = run(process.argv.slice(2));
