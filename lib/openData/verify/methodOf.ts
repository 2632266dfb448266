import { z } from 'zod';
import { storedBelief } from '@/lib/physics/stored';
import type { Method } from '@/lib/reduction/reduceRun';
import { valuesOf } from '@/lib/run/namedValues';
import { TYRE_KINDS } from '@/lib/run/tyreKind';
import type { Row } from '../column';

const levels = z.array(
  z.object({ factor: z.string(), levelId: z.string(), tyreKind: z.enum(valuesOf(TYRE_KINDS)).nullable() }),
);

/** The version of the method by which the results were made; undefined where an adopted road load cannot be read. */
export function methodOf(label: string, roadLoads: readonly Row[]): Method | undefined {
  const adopted: Method['roadLoads'] extends ReadonlyMap<string, infer Load> ? [string, Load][] : never = [];
  for (const { model_id, adopted_in, runs, mean, covariance, levels: stored } of roadLoads) {
    const posterior = storedBelief.safeParse({ mean, covariance });
    const read = levels.safeParse(stored);
    if (!posterior.success || !read.success) return undefined;
    const load = {
      label: String(adopted_in),
      runs: Number(runs),
      posterior: posterior.data,
      levels: read.data,
    };
    adopted.push([String(model_id), load]);
  }
  return { label, roadLoads: new Map(adopted) };
}
