import { z } from 'zod';
import kept from './simulatedCoverage.json';
import { SIMULATED_KINDS, type SimulatedKind } from './simulatedKinds';

const share = z.number().min(0).max(1);
const count = z.int().min(0);

const row = z.object({
  group: z.string(),
  layout: z.string(),
  kind: z.enum(Object.keys(SIMULATED_KINDS) as SimulatedKind[]),
  target: z.tuple([share, share]),
  share,
  standardError: share,
  worlds: count,
  intervals: count,
});

const scope = z.object({
  scope: z.enum(['run', 'session', 'car', 'model', 'method']),
  /** rms of error over stated uncertainty, wanted within the band. */
  ratio: z.number().min(0),
  standardError: z.number().min(0),
  band: z.tuple([z.number(), z.number()]),
});

const table = z.object({
  /** The day it was made. */
  on: z.iso.date(),
  command: z.string(),
  methodVersion: z.string(),
  /** Whether a truth half as far off again as stated was noticed. */
  bites: z.boolean(),
  scopes: z.array(scope),
  rows: z.array(row),
});

export type SimulatedRow = z.output<typeof row>;

/** How shares lie to what is wanted of them; one outside by no more than two standard errors is left to chance. */
export interface SimulatedSummary {
  within: number;
  byChance: number;
  tooWide: SimulatedRow[];
  tooNarrow: SimulatedRow[];
}

export function summarise(rows: readonly SimulatedRow[]): SimulatedSummary {
  const summary: SimulatedSummary = { within: 0, byChance: 0, tooWide: [], tooNarrow: [] };
  for (const row of rows) {
    const [low, high] = row.target;
    // a share of all has no spread of its own: that of what is wanted stands in
    const isAll = row.share === 1;
    const allowed = 2 * (isAll ? Math.sqrt((high * (1 - high)) / row.worlds) : row.standardError);
    if (row.share >= low && row.share <= high) summary.within += 1;
    else if (row.share > high + allowed) summary.tooWide.push(row);
    else if (row.share < low - allowed) summary.tooNarrow.push(row);
    else summary.byChance += 1;
  }
  return summary;
}

/**
 * How often intervals held in worlds whose truth is known: what `npm run bench -- coverage` found, kept beside the code
 * with the method that it was found for.
 */
export const SIMULATED_COVERAGE = table.parse(kept);
