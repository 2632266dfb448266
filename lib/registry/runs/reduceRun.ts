import { type ConsistencyCheck, checkConsistency } from '@/lib/capture/consistency';
import type { CruiseClass } from '@/lib/domain/cruiseClass';
import type { BearingShare } from '@/lib/domain/loopShape';
import type { EvidenceKind, RunRecord } from '@/lib/domain/runRecord';
import { type NormalisationCase, normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { type NormalisationResult, normaliseRun } from '@/lib/physics/normalise';
import { type ReconciledEnergy, reconcileEnergy } from '@/lib/physics/reconcile';
import { evaluateRun, type FindingResult } from '@/lib/protocol/evaluate';
import type { EnergyFacts, NormalisationFacts, RunFacts } from '@/lib/protocol/facts';
import type { ProtocolParameters } from '@/lib/protocol/parameters';
import type { StoredNormalisation } from '@/lib/store/normalisations';
import type { ReductionSubjects } from '@/lib/store/runs';
import { validSpeedometerCalibration } from './carCalibrations';
import { displayReadings } from './displayReadings';
import { energyReadings, resolutionUncertainty } from './energyReadings';
import { type LegWind, legWind } from './legWind';
import { type CaseSubjects, normalisationCase } from './normalisationCase';

/** The stored things a run is about, all there. */
export interface KnownSubjects {
  car: NonNullable<ReductionSubjects['car']>;
  setup: NonNullable<ReductionSubjects['setup']>;
  loop: NonNullable<ReductionSubjects['loop']>;
  cruiseClass: CruiseClass;
}

export interface ReductionInput {
  record: RunRecord;
  subjects: KnownSubjects;
  evidenceKinds: readonly EvidenceKind[];
  protocol: { label: string; parameters: ProtocolParameters };
  duplicateOfRunNumber: number | undefined;
  now: string;
}

/** What the engine was given and gave, as kept beside a revision. */
export interface ReductionResult {
  case: NormalisationCase;
  energy: ReconciledEnergy;
  result: NormalisationResult;
  legWind: LegWind | null;
}

export interface Reduction {
  checks: readonly ConsistencyCheck[];
  findings: FindingResult[];
  normalisation: StoredNormalisation;
  result: NormalisationResult;
}

/**
 * From a parsed record to findings and a normalised number: the straight line of the architecture, each step a pure
 * function of the one before.
 */
export function reduceRun(input: ReductionInput): Reduction {
  const { record, subjects } = input;
  const capacityWh = subjects.car.usableCapacityWh ?? subjects.car.model.usableCapacityWh ?? undefined;
  const checks = checkConsistency(displayReadings(record.readings, capacityWh));
  const energy = reconcileEnergy(energyReadings(record, capacityWh));
  const described = caseSubjects(subjects);
  const engineCase = normalisationCaseSchema.parse(normalisationCase(record, described, energy));
  const result = normaliseRun(engineCase);
  const wind = result.outcome === 'normalised' ? legWind(record, subjects.loop, engineCase) : null;
  const facts: RunFacts = {
    record,
    loop: subjects.loop,
    cruiseClass: subjects.cruiseClass,
    car: {
      placardFrontPa: subjects.car.placardFrontPa ?? undefined,
      placardRearPa: subjects.car.placardRearPa ?? undefined,
      hasSpeedometerCalibration: validSpeedometerCalibration(subjects.car.calibrations, record) !== undefined,
    },
    checks,
    energy: energyFacts(record, energy),
    normalisation: normalisationFacts(result, wind),
    evidenceKinds: input.evidenceKinds,
    ...(input.duplicateOfRunNumber === undefined ? {} : { duplicateOfRunNumber: input.duplicateOfRunNumber }),
    now: input.now,
  };
  const findings = evaluateRun(facts, input.protocol);
  return {
    checks,
    findings,
    result,
    normalisation: stored({ case: engineCase, energy, result, legWind: wind }),
  };
}

function caseSubjects({ car, setup, loop, cruiseClass }: KnownSubjects): CaseSubjects {
  // A setup that says nothing of its tyres is on those that the model was delivered with.
  const ownTyres = setup.levels.find(({ level }) => level.tyreKind !== null)?.level.tyreKind;
  const tyreKind = ownTyres ?? car.model.levels[0]?.tyreKind;
  return {
    car: {
      registeredMassKg: car.registeredMassKg ?? undefined,
      dragAreaM2: car.dragAreaM2 ?? undefined,
      rollingCoefficient: car.rollingCoefficient ?? undefined,
    },
    model: {
      bodyClass: car.model.bodyClass,
      kerbMassKg: car.model.kerbMassKg,
      dragAreaM2: car.model.dragAreaM2 ?? undefined,
      hasHeatPump: car.model.hasHeatPump,
    },
    tyreKind: tyreKind === 'allTerrain' ? 'allTerrain' : 'road',
    loop: { ...loop, bearings: loop.bearings as unknown as readonly BearingShare[] },
    cruiseClass,
  };
}

function energyFacts(record: RunRecord, energy: ReconciledEnergy): EnergyFacts {
  return {
    relativeResolutionUncertainty: resolutionUncertainty(record),
    ...(energy.birgeRatio === null ? {} : { birgeRatio: energy.birgeRatio }),
    ...(energy.disagreeing === null
      ? {}
      : { disagreeing: { ...energy.disagreeing, chiSquare: energy.chiSquare, pValue: energy.pValue } }),
  };
}

function normalisationFacts(result: NormalisationResult, wind: LegWind | null): NormalisationFacts {
  if (result.outcome === 'outsideReach') {
    return { ok: false, reasons: result.reach.reasons.map((reason) => reason.message) };
  }
  return {
    ok: true,
    adjustmentRelative: result.normalisedWhPerKm / result.measuredWhPerKm - 1,
    scale: result.scale,
    ...(wind === null ? {} : { windFinding: wind }),
  };
}

function stored(reduction: ReductionResult): StoredNormalisation {
  const { result } = reduction;
  const common = {
    methodVersion: result.methodVersion,
    input: reduction.case,
    result: { energy: reduction.energy, legWind: reduction.legWind, normalisation: result },
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
