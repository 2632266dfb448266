import { type NormalisationCase, normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { METHOD_VERSION, type NormalisationResult } from '@/lib/physics/normalise';
import type { ReconciledEnergy } from '@/lib/physics/reconcile';
import type { LegWind } from '../runs/legWind';

/** What was kept of a revision's reduction, under one method version. */
interface StoredReduction {
  energy: ReconciledEnergy;
  legWind: LegWind | null;
  normalisation: NormalisationResult;
}

export interface RunResult extends StoredReduction {
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

/** The newest stored result of a revision; undefined for a revision that was never normalised. */
export function storedResult(rows: readonly NormalisationRow[]): RunResult | undefined {
  const [newest, ...earlier] = rows;
  if (newest === undefined) return undefined;
  return {
    // Written by the reduction through JSON; the schema guards only what is computed on again.
    ...(newest.result as StoredReduction),
    case: normalisationCaseSchema.parse(newest.input),
    methodVersion: newest.methodVersion,
    computedAt: newest.computedAt.toISOString(),
    isCurrentMethod: newest.methodVersion === METHOD_VERSION,
    earlier: earlier.map(({ methodVersion, normalisedWhPerKm, uWhPerKm }) => ({
      methodVersion,
      normalisedWhPerKm,
      uWhPerKm,
    })),
  };
}
