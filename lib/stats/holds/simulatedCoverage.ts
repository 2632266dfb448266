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

const table = z.object({
  /** The day it was made. */
  on: z.iso.date(),
  command: z.string(),
  methodVersion: z.string(),
  rows: z.array(row),
});

export type SimulatedRow = z.output<typeof row>;

/**
 * How often intervals held in worlds whose truth is known: what `npm run bench -- coverage` found, kept beside the code
 * with the method that it was found for.
 */
export const SIMULATED_COVERAGE = table.parse(kept);
