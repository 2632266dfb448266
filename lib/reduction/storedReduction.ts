import type { NormalisationCase } from '@/lib/physics/caseSchema';
import type { NormalisationResult } from '@/lib/physics/normalise';
import type { ReconciledEnergy } from '@/lib/physics/reconcile';
import type { LegWind } from './legWind';
import type { RunDistance } from './runDistance';
import type { RunSpeed } from './runSpeed';
import type { ValueSources } from './valueSources';
import type { TraceUse } from './withTrace';

/** What of a reduction is kept beside a revision, besides the engine's input. */
export interface StoredReduction {
  energy: ReconciledEnergy;
  /** Which distance the run was divided by. */
  distance: RunDistance;
  /** Which cruise speed it was normalised from, and its cross-check. */
  speed: RunSpeed;
  /** Where the car's values come from: the car itself, its model's data sheet, or the table of priors. */
  sources: ValueSources;
  legWind: LegWind | null;
  /** What of the recording was used and what was only compared; null for a run without one. */
  trace: TraceUse | null;
  normalisation: NormalisationResult;
}

/** The row of one revision's result under one version of the method. */
export interface NormalisationRow {
  methodVersion: string;
  input: NormalisationCase;
  result: StoredReduction;
  isNormalised: boolean;
  measuredWhPerKm: number;
  normalisedWhPerKm: number | null;
  uWhPerKm: number | null;
  /** The run's own part, which goes into the fit. */
  uRunRelative: number | null;
  /** Null when infinite. */
  effectiveDof: number | null;
  adjustmentRelative: number | null;
}

export function normalisationRow({
  engineCase,
  reduction,
}: {
  engineCase: NormalisationCase;
  reduction: StoredReduction;
}): NormalisationRow {
  const result = reduction.normalisation;
  const common = {
    methodVersion: result.methodVersion,
    input: engineCase,
    result: reduction,
    measuredWhPerKm: result.measuredWhPerKm,
  };
  if (result.outcome === 'outsideReach') {
    return {
      ...common,
      isNormalised: false,
      normalisedWhPerKm: null,
      uWhPerKm: null,
      uRunRelative: null,
      effectiveDof: null,
      adjustmentRelative: null,
    };
  }
  return {
    ...common,
    isNormalised: true,
    normalisedWhPerKm: result.normalisedWhPerKm,
    uWhPerKm: result.uWhPerKm,
    uRunRelative: result.uByScope.run / result.normalisedWhPerKm,
    effectiveDof: Number.isFinite(result.effectiveDof) ? result.effectiveDof : null,
    adjustmentRelative: result.normalisedWhPerKm / result.measuredWhPerKm - 1,
  };
}
