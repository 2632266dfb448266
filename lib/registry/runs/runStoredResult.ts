import { type NormalisationCase, normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { readReduction, type StoredReduction } from '@/lib/reduction/storedReduction';
import { isOfEngine } from '@/lib/run/methodVersion';

/** Kept since the first version of the method; what was added later is missing from older results. */
type AlwaysKept = 'energy' | 'legWind' | 'normalisation';

export interface RunResult
  extends Pick<StoredReduction, AlwaysKept>,
    Partial<Omit<StoredReduction, AlwaysKept>> {
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
  input: unknown;
  result: unknown;
  normalisedWhPerKm: number | null;
  uWhPerKm: number | null;
}

/**
 * The stored result of a revision under the version in effect, or the newest while that is not computed yet; undefined
 * for a revision that was never normalised.
 */
export function storedResult(rows: readonly NormalisationRow[], inEffect: string): RunResult | undefined {
  const newest = rows.find(({ methodVersion }) => methodVersion === inEffect) ?? rows[0];
  if (newest === undefined) return undefined;
  const earlier = rows.filter((row) => row !== newest);
  return {
    ...readReduction(newest.result),
    // Parsed again: it is what is computed on.
    case: normalisationCaseSchema.parse(newest.input),
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
