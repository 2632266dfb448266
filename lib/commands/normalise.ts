import { readFileSync } from 'node:fs';
import { text } from 'node:stream/consumers';
import { parseArgs } from 'node:util';
import { caseJsonSchema, normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { monteCarloRun } from '@/lib/physics/monteCarlo';
import { normaliseRun } from '@/lib/physics/normalise';
import { describeResult } from '@/lib/physics/resultText';

/**
 * `npm run normalise -- file.json`: one run to reference conditions, from a file or from standard input.
 * Exit codes: 0 normalised, 1 bad input, 2 outside the method's reach (the reasons are printed), 64 wrong usage.
 */
const EXIT = { ok: 0, badInput: 1, outsideReach: 2, usage: 64 } as const;

const USAGE = `usage: npm run normalise -- [file.json] [--text] [--monte-carlo] [--seed n] [--draws n]
       npm run normalise -- --schema

Reads a run from the file, or from standard input when there is none or it is "-", and prints its
consumption at reference conditions, the steps to it and its uncertainty budget.

  --text         a table instead of JSON
  --monte-carlo  also propagate the distributions by simulation and compare
  --seed n       seed of the simulation (default 1)
  --draws n      draws of the simulation, 100 to 10000000 (default 10000)
  --schema       print the JSON Schema of the input
`;

function readOptions() {
  const { values, positionals } = parseArgs({
    args: process.argv.slice(2),
    allowPositionals: true,
    options: {
      text: { type: 'boolean', default: false },
      'monte-carlo': { type: 'boolean', default: false },
      seed: { type: 'string', default: '1' },
      draws: { type: 'string', default: '10000' },
      schema: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  if (positionals.length > 1) throw new TypeError('give one file');
  const whole = (name: 'seed' | 'draws', low: number, high: number): number => {
    const value = Number(values[name]);
    if (!Number.isInteger(value) || value < low || value > high || values[name].trim() === '') {
      throw new TypeError(`--${name} must be a whole number from ${low} to ${high}`);
    }
    return value;
  };
  return {
    ...values,
    file: positionals[0] ?? '-',
    seed: whole('seed', 0, 4294967295),
    draws: whole('draws', 100, 10_000_000),
  };
}

function complain(message: string): void {
  process.stderr.write(`${message}\n`);
}

function print(message: string): void {
  process.stdout.write(`${message}\n`);
}

async function main(): Promise<number> {
  let options: ReturnType<typeof readOptions>;
  try {
    options = readOptions();
  } catch (error) {
    complain(`${error instanceof Error ? error.message : 'wrong usage'}\n\n${USAGE}`);
    return EXIT.usage;
  }
  if (options.help) {
    print(USAGE);
    return EXIT.ok;
  }
  if (options.schema) {
    print(JSON.stringify(caseJsonSchema(), null, 2));
    return EXIT.ok;
  }

  const source = options.file === '-' ? 'standard input' : options.file;
  let json: unknown;
  try {
    json = JSON.parse(options.file === '-' ? await text(process.stdin) : readFileSync(options.file, 'utf8'));
  } catch (error) {
    complain(`${source}: ${error instanceof Error ? error.message : 'cannot be read'}`);
    return EXIT.badInput;
  }
  const parsed = normalisationCaseSchema.safeParse(json);
  if (!parsed.success) {
    for (const issue of parsed.error.issues) {
      complain(`${issue.path.length === 0 ? '(whole input)' : issue.path.join('.')}: ${issue.message}`);
    }
    return EXIT.badInput;
  }

  const result = normaliseRun(parsed.data);
  let simulation: ReturnType<typeof monteCarloRun> = null;
  if (options['monte-carlo']) {
    try {
      simulation = monteCarloRun(parsed.data, { seed: options.seed, draws: options.draws });
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      complain(`correlations: ${error.message}`);
      return EXIT.badInput;
    }
  }
  if (options.text) print(describeResult(result, simulation));
  else print(JSON.stringify(simulation === null ? result : { ...result, monteCarlo: simulation }, null, 2));
  if (result.outcome === 'outsideReach') {
    for (const reason of result.reach.reasons) complain(reason.message);
    return EXIT.outsideReach;
  }
  return EXIT.ok;
}

process.exitCode = await main();
