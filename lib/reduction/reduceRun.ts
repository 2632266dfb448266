import { type ConsistencyCheck, checkConsistency } from '@/lib/capture/consistency';
import { type NormalisationCase, normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { type NormalisationResult, normaliseRun } from '@/lib/physics/normalise';
import { type ReconciledEnergy, reconcileEnergy } from '@/lib/physics/reconcile';
import { type AdoptedRoadLoad, adoptedTerms } from './adoptedTerms';
import { hasSpeedometerCalibration } from './carCalibrations';
import { displayReadings } from './displayReadings';
import { energyReadings, resolutionUncertainty } from './energyReadings';
import { type LegWind, legWind } from './legWind';
import { normalisationCase } from './normalisationCase';
import { runDistance } from './runDistance';
import { runSpeed } from './runSpeed';
import { runTrace } from './runTrace';
import type { ReducedRecord, ReductionSnapshot } from './snapshot';
import type { StoredReduction } from './storedReduction';
import { nameSources, valueSources } from './valueSources';
import { loopWithTrace, recordWithTrace, speedWithTrace, traceCase, traceUse, usable } from './withTrace';

/** A version of the method: its label, and what was adopted beside the engine by model. */
export interface Method {
  label: string;
  roadLoads: ReadonlyMap<string, AdoptedRoadLoad>;
}

export interface ReducedRun {
  checks: readonly ConsistencyCheck[];
  /** What the engine was given. */
  engineCase: NormalisationCase;
  reduction: StoredReduction;
  facts: ReturnType<typeof factsOf>;
}

/**
 * From everything that was known of a run at its submission to its normalised number: the straight line of the
 * architecture, each step a pure function of the one before. The result is a function of the snapshot and the version.
 */
export function reduceRun(snapshot: ReductionSnapshot, method: Method): ReducedRun {
  const { record, car, model, loop, calibrations, recording } = snapshot;
  const capacityWh = car.usableCapacityWh ?? model.usableCapacityWh ?? undefined;
  const checks = checkConsistency(displayReadings(record.readings, capacityWh));
  const energy = reconcileEnergy(energyReadings(record, capacityWh));
  const distance = runDistance(record, loop, calibrations);
  const trace = recording === null ? undefined : runTrace(recording, loop);
  const speed = speedWithTrace(runSpeed(record, calibrations), usable(trace));
  const adopted = method.roadLoads.get(model.id);
  const learned = adopted && adoptedTerms(adopted, snapshot);
  const measured = { energy, distance, speed, trace: traceCase(usable(trace)) };
  const engineCase = normalisationCaseSchema.parse(normalisationCase(snapshot, learned, measured));
  const sources = valueSources(snapshot, learned);
  const result = nameSources({ ...normaliseRun(engineCase), methodVersion: method.label }, sources);
  const wind = result.outcome === 'normalised' ? legWind(snapshot, engineCase) : null;
  const reduction = {
    energy,
    distance,
    speed,
    sources,
    legWind: wind,
    trace: traceUse(trace),
    normalisation: result,
  };
  return { checks, engineCase, reduction, facts: factsOf(snapshot, checks, reduction) };
}

/** What the protocol's rules may ask of a reduced run: as driven, where a recording says it better than the form. */
function factsOf(
  snapshot: ReductionSnapshot,
  checks: readonly ConsistencyCheck[],
  { energy, legWind: wind, normalisation }: StoredReduction,
) {
  const { record, car, loop, calibrations, cruiseClass, recording } = snapshot;
  const traced = recording === null ? undefined : usable(runTrace(recording, loop));
  return {
    record: recordWithTrace(record, traced),
    loop: loopWithTrace(loop, traced),
    cruiseClass,
    car: {
      placardFrontPa: car.placardFrontPa ?? undefined,
      placardRearPa: car.placardRearPa ?? undefined,
      hasSpeedometerCalibration: hasSpeedometerCalibration(calibrations, record),
    },
    checks,
    energy: energyFacts(record, energy),
    normalisation: normalisationFacts(normalisation, wind),
  };
}

function energyFacts(record: ReducedRecord, energy: ReconciledEnergy) {
  return {
    relativeResolutionUncertainty: resolutionUncertainty(record),
    // over all readings, the checks among them: what the rule asks is whether anything is read wrongly
    ...(energy.dof === 0 ? {} : { birgeRatio: Math.sqrt(energy.chiSquare / energy.dof) }),
    ...(energy.disagreeing === null
      ? {}
      : { disagreeing: { ...energy.disagreeing, chiSquare: energy.chiSquare, pValue: energy.pValue } }),
  };
}

function normalisationFacts(result: NormalisationResult, wind: LegWind | null) {
  if (result.outcome === 'outsideReach') {
    return { ok: false as const, reasons: result.reach.reasons.map(({ said, message }) => said ?? message) };
  }
  return {
    ok: true as const,
    adjustmentRelative: result.normalisedWhPerKm / result.measuredWhPerKm - 1,
    scale: result.scale,
    ...(wind === null ? {} : { windFinding: wind }),
  };
}
