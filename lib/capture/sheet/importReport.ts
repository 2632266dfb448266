import { z } from 'zod';
import { saidSchema } from '@/lib/units/saidSchema';
import { isUnitCode } from '@/lib/units/unit';

/**
 * Where an import stands. `mapping`: columns are being assigned; `checking`: the background does the dry run; `checked`:
 * it is done; `running` and `undoing`: the background is at work; `done`, `stopped` (a complete import met a row that could no longer be taken,
 * and took everything back) and `undone` are ends.
 */
export const IMPORT_STATES = [
  'mapping',
  'checking',
  'checked',
  'running',
  'done',
  'stopped',
  'undoing',
  'undone',
] as const;
export type ImportState = (typeof IMPORT_STATES)[number];

export const columnChoiceSchema = z.object({
  field: z.string().max(60),
  column: z.number().int().min(0).max(1000),
  unit: z.string().refine(isUnitCode).optional(),
});

/**
 * How a sheet is read: which column feeds which field, in which unit, what holds for all rows, what its words mean, and
 * how it writes numbers and dates where its cells do not tell.
 */
export const sheetReadingSchema = z.object({
  columns: z.array(columnChoiceSchema).max(200),
  given: z.record(z.string().max(60), z.string().max(200)),
  /** Words of the sheet and what each stands for. */
  words: z
    .array(
      z.object({
        field: z.string().max(60),
        text: z.string().max(200),
        value: z.string().max(200),
      }),
    )
    .max(1000)
    .default([]),
  decimalMark: z.enum(['point', 'comma']).optional(),
  dateOrder: z.enum(['dmy', 'mdy']).optional(),
  /** Whether a row without a date is of the day above it. */
  blankDates: z.enum(['carried', 'missing']).optional(),
});
export type SheetReading = z.output<typeof sheetReadingSchema>;

const problem = z.object({ cell: z.string(), path: z.string(), message: z.string() });

/** What would be found on a row if it were sent now; what passes is left out. */
const verdictSchema = z.object({
  /** At reference conditions; null where the run is out of the method's reach. */
  whPerKm: z.number().nullable(),
  uWhPerKm: z.number().nullable(),
  found: z.array(
    z.object({
      ruleId: z.string(),
      outcome: z.enum(['fail', 'caution']),
      sentence: z.string(),
      said: saidSchema.exactOptional(),
    }),
  ),
});
export type RowVerdict = z.output<typeof verdictSchema>;

export function failsRules(verdict: RowVerdict): boolean {
  return verdict.found.some(({ outcome }) => outcome === 'fail');
}

const rowSchema = z.discriminatedUnion('outcome', [
  z.object({
    outcome: z.literal('create'),
    row: z.number(),
    what: z.string(),
    /** Of the first rows of a sheet; of the others it is worked out where they are shown. */
    verdict: verdictSchema.exactOptional(),
    /** It failed a rule when its turn came, and stays a draft. */
    isDraft: z.literal(true).exactOptional(),
  }),
  z.object({
    outcome: z.literal('matched'),
    row: z.number(),
    what: z.string(),
    runNumber: z.number(),
  }),
  z.object({ outcome: z.literal('refused'), row: z.number(), problems: z.array(problem) }),
]);
export type PlannedRow = z.output<typeof rowSchema>;

const kept = z.object({ runNumber: z.number(), status: z.string() });

export const FAILING_ROWS = ['draft', 'send'] as const;

/** What an import batch keeps beside its counts. */
export const importReportSchema = z.object({
  state: z.enum(IMPORT_STATES),
  /** The file's content, by digest: the same file makes the same runs however often it comes. */
  sha256: z.string(),
  sheetName: z.string().nullable(),
  sheetNames: z.array(z.string()),
  /** The row of the headings, as the spreadsheet numbers it; found by itself where none was picked. */
  headingRow: z.number().int().min(1).nullable().default(null),
  reading: sheetReadingSchema,
  /** What the mapping cannot be used for yet. */
  mappingProblems: z.array(z.object({ field: z.string(), message: z.string() })).default([]),
  rows: z.array(rowSchema).default([]),
  /** How many of `rows` the background has been through. */
  rowsDone: z.number().default(0),
  /** A complete import met a row that could no longer be taken: what was made is being taken back. */
  isStopped: z.boolean().default(false),
  /** After an undo: runs that had been decided on and stay. */
  kept: z.array(kept).default([]),
  withdrawn: z.number().default(0),
  /** What is done with rows that fail a rule: sent for review all the same, or kept as drafts. */
  failing: z.enum(FAILING_ROWS).default('send'),
});
export type ImportReport = z.output<typeof importReportSchema>;

export interface RowCounts {
  create: number;
  matched: number;
  refused: number;
}

export function countRows(rows: readonly PlannedRow[]): RowCounts {
  const counts: RowCounts = { create: 0, matched: 0, refused: 0 };
  for (const { outcome } of rows) counts[outcome] += 1;
  return counts;
}

/** The rows that the rules were held against, how many of them fail one, and which rules fail in most rows. */
export interface JudgedRows {
  judged: number;
  failing: number;
  rules: { ruleId: string; rows: number }[];
}

export function countJudged(rows: readonly PlannedRow[]): JudgedRows {
  const verdicts = rows.flatMap((row) => (row.outcome === 'create' && row.verdict ? [row.verdict] : []));
  const byRule = new Map<string, number>();
  for (const { found } of verdicts)
    for (const { ruleId, outcome } of found)
      if (outcome === 'fail') byRule.set(ruleId, (byRule.get(ruleId) ?? 0) + 1);
  return {
    judged: verdicts.length,
    failing: verdicts.filter(failsRules).length,
    rules: [...byRule].map(([ruleId, count]) => ({ ruleId, rows: count })).sort((a, b) => b.rows - a.rows),
  };
}

export interface RepeatedFault {
  path: string;
  message: string;
  rows: number;
}

/** More than these are read in the rows themselves. */
const MOST_REPEATED = 12;

/** Faults that stand in more than one row word by word: one answer mends them all. */
export function repeatedFaults(rows: readonly PlannedRow[]): RepeatedFault[] {
  const found = new Map<string, RepeatedFault>();
  for (const row of rows) {
    if (row.outcome !== 'refused') continue;
    for (const { path, message } of row.problems) {
      const key = `${path}\n${message}`;
      const fault = found.get(key) ?? { path, message, rows: 0 };
      found.set(key, { ...fault, rows: fault.rows + 1 });
    }
  }
  return [...found.values()]
    .filter((fault) => fault.rows > 1)
    .sort((a, b) => b.rows - a.rows)
    .slice(0, MOST_REPEATED);
}
