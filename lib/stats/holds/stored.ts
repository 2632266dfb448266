import { z } from 'zod';
import type { IntervalsHold } from './intervalsHold';

const count = z.int().min(0);
const share = z.number().min(0).max(1);

const coverage = z.array(z.object({ level: share, inside: count, of: count, low: share, high: share }));

const intervalsHold = z.object({
  runs: z.object({ predicted: count, notPredicted: count }),
  sessions: z.object({ predicted: count, notPredicted: count }),
  refits: count,
  coverage,
  histogram: z.array(count),
  dispersion: z.array(
    z.object({
      kind: z.enum(['car', 'tester', 'loop']),
      key: z.string(),
      runs: count,
      ratio: z.number().min(0),
      p: share,
      pHolm: share,
    }),
  ),
  dispersionTests: count,
  cars: coverage,
  faults: z.array(z.enum(['narrow', 'wide', 'uneven', 'carsNarrow'])).nullable(),
});

/** What was found of a class's intervals, as it was stored; undefined where it cannot be read. Never throws. */
export function readIntervalsHold(stored: unknown): IntervalsHold | undefined {
  return intervalsHold.safeParse(stored).data;
}
