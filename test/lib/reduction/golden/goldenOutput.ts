import type { NormalisationResult } from '@/lib/physics/normalise';
import { PROTOCOL_V1 } from '@/lib/protocol/versions/v1';
import { runParts } from '@/lib/reduction/runParts';
import { runTrace } from '@/lib/reduction/runTrace';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import { ENGINE_ALONE, type MethodInEffect } from '@/lib/registry/method/methodInEffect';
import { type KnownSubjects, readReduction, reduceRun } from '@/lib/registry/runs/reduceRun';
import type { StoredTrace } from '@/lib/registry/traces/storedTrace';
import type { RunRecord } from '@/lib/run/runRecord';
import type { GoldenInput, Json } from './goldenTable';

const JUDGED_AT = '2026-11-01T12:00:00.000Z';

/** Every number and code of one case, without the words around them: words may be bettered within a version. */
export function goldenOutput({ snapshot, adopted }: GoldenInput, stationReport?: string): Json {
  const method: MethodInEffect =
    adopted === null
      ? ENGINE_ALONE
      : { label: adopted.label, roadLoads: new Map([[snapshot.model.id, adopted]]) };
  const subjects = subjectsOf(snapshot);
  const reduced = reduceRun({
    record: { ...snapshot.record, notes: '', stationReport } as RunRecord,
    subjects,
    method,
    trace: snapshot.recording
      ? runTrace(snapshot.recording.traceId, storedTrace(snapshot.recording), subjects.loop)
      : undefined,
    loopDriving: snapshot.recording === null ? snapshot.loop.driving : undefined,
    evidenceKinds: ['startDisplay', 'finishDisplay'],
    protocol: PROTOCOL_V1,
    duplicateOfRunNumber: undefined,
    now: JUDGED_AT,
  });
  const { energy, distance, speed, legWind, trace, sources } = readReduction(reduced.normalisation.result);
  const { result: _, ...columns } = reduced.normalisation;
  return withoutWords({
    columns,
    energy,
    distance,
    speed,
    legWind,
    trace,
    sources,
    result: resultNumbers(reduced.result),
    checks: Object.fromEntries(reduced.checks.map((check) => [check.id, [check.outcome, check.numbers]])),
    findings: Object.fromEntries(
      reduced.findings.map(({ ruleId, outcome, numbers }) => [
        ruleId,
        [outcome, ...numbers.map((n) => n.value)],
      ]),
    ),
    parts: runParts({ sessionId: 'session', carId: 'car', loopId: 'loop', modelId: 'model' }, reduced.result),
  });
}

function resultNumbers(result: NormalisationResult) {
  if (result.outcome === 'outsideReach') {
    return { ...result, reach: result.reach.reasons.map(({ code }) => code), findings: codes(result) };
  }
  const { steps, budget, scaleFinding, ...rest } = result;
  return {
    ...rest,
    findings: codes(result),
    scaleFinding: scaleFinding?.level ?? null,
    steps: Object.fromEntries(
      steps.map(({ name, deltaWhPerKm, factor, uWhPerKm }) => [name, [deltaWhPerKm, factor, uWhPerKm]]),
    ),
    budget: budget.map((entry) => [
      entry.input,
      entry.value,
      entry.u,
      entry.dof,
      entry.distribution,
      entry.scope,
      entry.sensitivity,
      entry.contributionWhPerKm,
    ]),
  };
}

const codes = ({ findings }: NormalisationResult) => findings.map(({ code }) => code);

const WORDS: ReadonlySet<string> = new Set(['words', 'label', 'message', 'refusal', 'reasonsNotUsed']);

/** Through JSON as the store keeps it; sentences become whether there is one. */
function withoutWords(value: unknown): Json {
  return JSON.parse(
    JSON.stringify(value, (key, each: unknown) =>
      WORDS.has(key) ? (Array.isArray(each) ? each.length : each !== null) : each,
    ),
  ) as Json;
}

function storedTrace(recording: NonNullable<ReductionSnapshot['recording']>): StoredTrace {
  const { netClimbM, sectorShares, ...rest } = recording;
  return {
    reduction: {
      ...rest,
      bearings: { sectorShares },
      climb: netClimbM === null ? null : { netM: netClimbM },
    },
  } as unknown as StoredTrace;
}

function subjectsOf({
  car,
  model,
  setup,
  loop,
  calibrations,
  cruiseClass,
}: ReductionSnapshot): KnownSubjects {
  const { coastDown, ...ofCar } = car;
  const { deliveredTyreKind, ...ofModel } = model;
  const day = (text: string) => new Date(`${text}T00:00:00Z`);
  return {
    car: {
      ...ofCar,
      ownerId: 'owner',
      modelId: model.id,
      isDemo: false,
      coastDownF0N: coastDown?.f0N ?? null,
      coastDownF1NPerKmh: coastDown?.f1NPerKmh ?? null,
      coastDownF2NPerKmh2: coastDown?.f2NPerKmh2 ?? null,
      model: { ...ofModel, levels: deliveredTyreKind === null ? [] : [{ tyreKind: deliveredTyreKind }] },
      calibrations: calibrations.map((each) => ({
        ...each,
        method: 'as stated',
        measuredOn: day(each.measuredOn),
        invalidatedOn: each.invalidatedOn === null ? null : day(each.invalidatedOn),
        invalidatedReason: null,
      })),
    },
    setup: {
      id: setup.id,
      modelId: model.id,
      isDemo: false,
      levels: setup.levels.map(({ factor, levelId, isBaseline, tyreKind }) => ({
        factor,
        level: { id: levelId, isBaseline, tyreKind },
      })),
    },
    loop: { ...loop, isDemo: false } as unknown as KnownSubjects['loop'],
    cruiseClass,
  };
}
