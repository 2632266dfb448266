import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { isOfEngine } from '@/lib/run/methodVersion';
import type { ReadReduction } from './stored';

/** What was kept since the first version of the method; what was added later is missing from older results. */
export interface RunResult extends ReadReduction {
  methodVersion: string;
  computedAt: string;
  /** The engine of today is the one that made the result. */
  isCurrentMethod: boolean;
  /** What the engine was given. */
  case: NormalisationCase;
  /** Under earlier method versions, newest first: kept readable. */
  earlier: { methodVersion: string; normalisedWhPerKm: number | null; uWhPerKm: number | null }[];
}

export interface NormalisationRow {
  methodVersion: string;
  computedAt: Date;
  /** Undefined where what is stored cannot be read. */
  input: NormalisationCase | undefined;
  result: ReadReduction | undefined;
  normalisedWhPerKm: number | null;
  uWhPerKm: number | null;
}

/**
 * The stored result of a revision under the version in effect, or the newest while that is not computed yet; undefined
 * for a revision that was never normalised, and for one whose result cannot be read.
 */
export function storedResult(rows: readonly NormalisationRow[], inEffect: string): RunResult | undefined {
  const newest = rows.find(({ methodVersion }) => methodVersion === inEffect) ?? rows[0];
  if (newest?.input === undefined || newest.result === undefined) return undefined;
  const earlier = rows.filter((row) => row !== newest);
  return {
    ...newest.result,
    case: newest.input,
    methodVersion: newest.methodVersion,
    computedAt: newest.computedAt.toISOString(),
    isCurrentMethod: isOfEngine(newest.methodVersion, METHOD_VERSION),
    earlier: earlier.map(({ methodVersion, normalisedWhPerKm, uWhPerKm }) => ({
      methodVersion,
      normalisedWhPerKm,
      uWhPerKm,
    })),
  };
}
