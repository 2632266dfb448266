import { type ConsistencyCheck, checkConsistency } from '@/lib/capture/consistency';
import { type NormalisationCase, normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { type NormalisationResult, normaliseRun } from '@/lib/physics/normalise';
import { type ReconciledEnergy, reconcileEnergy } from '@/lib/physics/reconcile';
import { evaluateRun, type FindingResult } from '@/lib/protocol/evaluate';
import type { EnergyFacts, NormalisationFacts, RunFacts } from '@/lib/protocol/facts';
import type { ProtocolParameters } from '@/lib/protocol/parameters';
import { adoptedTerms } from '@/lib/reduction/adoptedTerms';
import { hasSpeedometerCalibration } from '@/lib/reduction/carCalibrations';
import { displayReadings } from '@/lib/reduction/displayReadings';
import { energyReadings, resolutionUncertainty } from '@/lib/reduction/energyReadings';
import { type LegWind, legWind } from '@/lib/reduction/legWind';
import type { LoopDriving } from '@/lib/reduction/loopDriving';
import { type CaseSubjects, normalisationCase } from '@/lib/reduction/normalisationCase';
import { type RunDistance, runDistance } from '@/lib/reduction/runDistance';
import { type RunSpeed, runSpeed } from '@/lib/reduction/runSpeed';
import type { RunTrace } from '@/lib/reduction/runTrace';
import { coastDownOf, nameSources, type ValueSources, valueSources } from '@/lib/reduction/valueSources';
import {
  loopWithTrace,
  recordWithTrace,
  speedWithTrace,
  type TraceUse,
  traceCase,
  traceUse,
  usable,
} from '@/lib/reduction/withTrace';
import type { CruiseClass } from '@/lib/run/cruiseClass';
import type { BearingShare } from '@/lib/run/loopShape';
import type { EvidenceKind, RunRecord } from '@/lib/run/runRecord';
import type { StoredNormalisation } from '@/lib/store/normalisations';
import type { ReductionSubjects } from '@/lib/store/runs';
import { ENGINE_ALONE, type MethodInEffect } from '../method/methodInEffect';

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
  /** The run's own recording. */
  trace?: RunTrace | undefined;
  /** How the loop is driven, from recordings of it; for a run without one of its own. */
  loopDriving?: LoopDriving | undefined;
  /** The version in effect in the run's world. */
  method?: MethodInEffect | undefined;
  evidenceKinds: readonly EvidenceKind[];
  protocol: { label: string; parameters: ProtocolParameters };
  duplicateOfRunNumber: number | undefined;
  now: string;
}

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

/** The column `result` as this file wrote it, through JSON. */
export function readReduction(stored: unknown): StoredReduction {
  return stored as StoredReduction;
}

/** The engine's part of a reduction: what it was given and what it gave. */
export interface NormalisedRecord {
  checks: readonly ConsistencyCheck[];
  engineCase: NormalisationCase;
  reduction: StoredReduction;
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
  const { record, subjects, trace } = input;
  const normalised = normaliseRecord(record, subjects, trace, input.method, input.loopDriving);
  const traced = usable(trace);
  const { checks, reduction } = normalised;
  const { energy, legWind: wind, normalisation: result } = reduction;
  const facts: RunFacts = {
    record: recordWithTrace(record, traced),
    loop: loopWithTrace(subjects.loop, traced),
    cruiseClass: subjects.cruiseClass,
    car: {
      placardFrontPa: subjects.car.placardFrontPa ?? undefined,
      placardRearPa: subjects.car.placardRearPa ?? undefined,
      hasSpeedometerCalibration: hasSpeedometerCalibration(subjects.car.calibrations, record),
    },
    checks,
    energy: energyFacts(record, energy),
    normalisation: normalisationFacts(result, wind),
    evidenceKinds: input.evidenceKinds,
    ...(input.duplicateOfRunNumber === undefined ? {} : { duplicateOfRunNumber: input.duplicateOfRunNumber }),
    now: input.now,
  };
  const findings = evaluateRun(facts, input.protocol);
  return { checks, findings, result, normalisation: storedNormalisation(normalised) };
}

/** The part of the line that a new version of the method repeats: from a record to its normalised number. */
export function normaliseRecord(
  record: RunRecord,
  subjects: KnownSubjects,
  trace?: RunTrace,
  method: MethodInEffect = ENGINE_ALONE,
  driving?: LoopDriving,
): NormalisedRecord {
  const { calibrations } = subjects.car;
  const capacityWh = subjects.car.usableCapacityWh ?? subjects.car.model.usableCapacityWh ?? undefined;
  const checks = checkConsistency(displayReadings(record.readings, capacityWh));
  const energy = reconcileEnergy(energyReadings(record, capacityWh));
  const distance = runDistance(record, subjects.loop, calibrations);
  const speed = speedWithTrace(runSpeed(record, calibrations), usable(trace));
  const adopted = method.roadLoads.get(subjects.car.modelId);
  const learned = adopted && adoptedTerms(adopted, subjects.setup.levels);
  const known = caseSubjects(subjects);
  const described = { ...known, loop: { ...known.loop, driving }, learned };
  const engineCase = normalisationCaseSchema.parse(
    normalisationCase(record, described, { energy, distance, speed, trace: traceCase(usable(trace)) }),
  );
  const sources = valueSources(subjects.car, described.tyreKind, learned);
  const result = nameSources({ ...normaliseRun(engineCase), methodVersion: method.label }, sources);
  const wind = result.outcome === 'normalised' ? legWind(record, subjects.loop, engineCase) : null;
  return {
    checks,
    engineCase,
    reduction: {
      energy,
      distance,
      speed,
      sources,
      legWind: wind,
      trace: traceUse(trace),
      normalisation: result,
    },
  };
}

function caseSubjects({ car, setup, loop, cruiseClass }: KnownSubjects): Omit<CaseSubjects, 'learned'> {
  // A setup that says nothing of its tyres is on those that the model was delivered with.
  const ownTyres = setup.levels.find(({ level }) => level.tyreKind !== null)?.level.tyreKind;
  const tyreKind = ownTyres ?? car.model.levels[0]?.tyreKind;
  return {
    car: {
      registeredMassKg: car.registeredMassKg ?? undefined,
      dragAreaM2: car.dragAreaM2 ?? undefined,
      rollingCoefficient: car.rollingCoefficient ?? undefined,
      coastDown: coastDownOf(car),
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
    // over all readings, the checks among them: what the rule asks is whether anything is read wrongly
    ...(energy.dof === 0 ? {} : { birgeRatio: Math.sqrt(energy.chiSquare / energy.dof) }),
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

export function storedNormalisation({ engineCase, reduction }: NormalisedRecord): StoredNormalisation {
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
