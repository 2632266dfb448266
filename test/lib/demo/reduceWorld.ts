import { parseGpx } from '@/lib/capture/trace/gpx';
import { reduceTrace } from '@/lib/capture/trace/reduceTrace';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { METHOD_VERSION, type NormalisationResult } from '@/lib/physics/normalise';
import type { FindingResult } from '@/lib/protocol/evaluate';
import { judgeRun } from '@/lib/protocol/judgeRun';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { loopDriving } from '@/lib/reduction/loopDriving';
import { recordingSnapshot } from '@/lib/reduction/recordingSnapshot';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { runParts, sharedContributions } from '@/lib/reduction/runParts';
import { type RunTrace, runTrace } from '@/lib/reduction/runTrace';
import type { LoopDriving, RecordingSnapshot, ReductionSnapshot } from '@/lib/reduction/snapshot';
import { type NormalisationRow, normalisationRow } from '@/lib/reduction/storedReduction';
import { type KnownSubjects, takeSnapshot } from '@/lib/reduction/takeSnapshot';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { FitRow } from '@/lib/stats/fitRow';
import { recordedRuns, recordingOf } from '@/prisma/demo/world/recordings';
import type { DemoRevision, DemoRun, DemoWorld } from '@/prisma/demo/world/types';

/** Any well-formed id: the pure line from form to number does not look anything up by it. */
const ID = '0192d3f0-0000-7000-8000-000000000001';

interface Reduction {
  /** Judged when asked for: simulations of the numbers alone go without. */
  readonly findings: FindingResult[];
  normalisation: NormalisationRow;
  result: NormalisationResult;
  /** What it was made from. */
  snapshot: ReductionSnapshot;
  engineCase: NormalisationCase;
}

export interface ReducedRun {
  run: DemoRun;
  revision: DemoRevision;
  reduction: Reduction;
}

/**
 * The registry's own line from the typed form to findings and a normalised number, without a database.
 *
 * @param wanted only these runs; their recordings and the loops' come from the whole world all the same
 */
export function reduceWorld(world: DemoWorld, wanted: (run: DemoRun) => boolean = () => true): ReducedRun[] {
  const recordings = recordingsOf(world);
  return world.runs.filter(wanted).flatMap((run) =>
    run.revisions.map((revision) => ({
      run,
      revision,
      reduction: reduceRevision(world, recordings, run, revision),
    })),
  );
}

interface Recordings {
  ofRun: ReadonlyMap<string, RecordingSnapshot>;
  /** Of the loop at the class of a run. */
  driving: (run: DemoRun) => LoopDriving | undefined;
}

/** Reads the world's recordings as an upload does, and what they say of each loop. */
function recordingsOf(world: DemoWorld): Recordings {
  const keys = recordedRuns(world);
  const ofRun = new Map<string, RecordingSnapshot>();
  const onLoop = new Map<string, RunTrace[]>();
  for (const run of world.runs.filter((each) => keys.has(each.key))) {
    const loop = world.loops.find((each) => each.key === run.loopKey);
    const speedMps = cruiseClassByKey(run.cruiseClassKey)?.speedMps;
    const parsed = parseGpx(recordingOf(world, run));
    if (!loop || !parsed.ok || speedMps === undefined) throw new Error(`${run.key} has no recording`);
    const reduction = reduceTrace(parsed.points, { cruiseClassMps: speedMps });
    if (!reduction.ok) throw new Error(reduction.message);
    const recording = recordingSnapshot(run.key, reduction, loop);
    const trace = runTrace(recording, loop);
    ofRun.set(run.key, recording);
    onLoop.set(run.loopKey, [...(onLoop.get(run.loopKey) ?? []), trace]);
  }
  const known = new Map<string, LoopDriving | undefined>();
  const driving = ({ loopKey, cruiseClassKey }: DemoRun) => {
    const key = `${loopKey} ${cruiseClassKey}`;
    const speedMps = cruiseClassByKey(cruiseClassKey)?.speedMps ?? Number.NaN;
    if (!known.has(key)) known.set(key, loopDriving(onLoop.get(loopKey) ?? [], speedMps));
    return known.get(key);
  };
  return { ofRun, driving };
}

function reduceRevision(
  world: DemoWorld,
  recordings: Recordings,
  run: DemoRun,
  revision: DemoRevision,
): Reduction {
  const parsed = parseRunForm(
    { ...revision.form, carId: ID, setupId: ID, loopId: ID },
    { now: revision.submittedAt },
  );
  if (!parsed.ok) throw new Error(`${run.key}: ${parsed.issues.map((issue) => issue.what).join(' ')}`);
  const kinds = run.revisions
    .slice(0, run.revisions.indexOf(revision) + 1)
    .flatMap((each) => each.photos.map((photo) => photo.kind));
  const taken = takeSnapshot(parsed.record, subjectsOf(world, run), undefined, undefined);
  const recording = recordings.ofRun.get(run.key) ?? null;
  const driving = (recording === null ? recordings.driving(run) : undefined) ?? null;
  const snapshot = { ...taken, recording, loop: { ...taken.loop, driving } };
  const reduced = reduceRun(snapshot, { label: METHOD_VERSION, roadLoads: new Map() });
  const circumstances = {
    evidenceKinds: [...new Set(kinds)],
    pictures: [],
    photoTimes: [],
    duplicateOfRunNumber: revision.fault === 'duplicate' ? 1 : undefined,
    now: revision.submittedAt,
  };
  return {
    get findings() {
      return judgeRun(parsed.record, reduced, circumstances, NEWEST_VERSION);
    },
    normalisation: normalisationRow(reduced),
    result: reduced.reduction.normalisation,
    snapshot,
    engineCase: reduced.engineCase,
  };
}

/** What the store would return for the run's car, setup and loop. */
function subjectsOf(world: DemoWorld, run: DemoRun): KnownSubjects {
  const car = world.cars.find((each) => each.key === run.carKey);
  const model = world.models.find((each) => each.key === car?.modelKey);
  const setup = model?.setups.find((each) => each.key === run.setupKey);
  const loop = world.loops.find((each) => each.key === run.loopKey);
  const cruiseClass = cruiseClassByKey(run.cruiseClassKey);
  if (!car || !model || !setup || !loop || !cruiseClass) throw new Error(`${run.key} refers to nothing`);
  return {
    car: {
      id: car.key,
      registeredMassKg: null,
      usableCapacityWh: car.usableCapacityWh,
      dragAreaM2: null,
      rollingCoefficient: null,
      coastDownF0N: null,
      coastDownF1NPerKmh: null,
      coastDownF2NPerKmh2: null,
      ownValuesSource: null,
      placardFrontPa: model.setups[0]?.placardPa.front ?? null,
      placardRearPa: model.setups[0]?.placardPa.rear ?? null,
      model: {
        id: model.key,
        bodyClass: model.bodyClass,
        kerbMassKg: model.kerbMassKg,
        usableCapacityWh: model.usableCapacityWh,
        dragAreaM2: model.dragAreaM2 ?? null,
        dragAreaSource: model.dragAreaSource ?? null,
        hasHeatPump: model.hasHeatPump,
        levels: model.levels
          .filter((level) => level.factor === 'wheelTyre')
          .slice(0, 1)
          .map((level) => ({ tyreKind: level.tyreKind ?? 'road' })),
      },
      calibrations: [
        {
          instrument: 'speedometer',
          factor: car.calibratedSpeedometerFactor,
          standardUncertainty: 0.002,
          measuredOn: new Date(`${car.calibratedOn}T00:00:00Z`),
          odometerM: null,
          invalidatedOn: null,
        },
      ],
    },
    setup: {
      id: setup.key,
      levels: setup.levelKeys.map((key) => {
        const level = model.levels.find((each) => `${each.factor}=${each.key}` === key);
        const tyreKind = level?.factor === 'wheelTyre' ? (level.tyreKind ?? 'road') : null;
        return {
          factor: level?.factor ?? '',
          // the first of a factor is as delivered
          level: {
            id: key,
            isBaseline: model.levels.find((each) => each.factor === level?.factor) === level,
            tyreKind,
          },
        };
      }),
    },
    loop: {
      ...loop,
      id: loop.key,
      bearings: loop.bearings.map((each) => ({ ...each })),
      legs: loop.legs.map((leg) => ({ ...leg, bearings: leg.bearings.map((each) => ({ ...each })) })),
    },
    cruiseClass,
  };
}

/** The rows that a class's fit would get: the approved revision of every run, as the registry takes them. */
export function fitRows(reduced: readonly ReducedRun[], cruiseClassKey: string): FitRow[] {
  return reduced.flatMap(({ run, revision, reduction }) => {
    const { normalisation } = reduction;
    const isApproved = revision.review?.kind === 'approve' && run.retraction === undefined;
    if (!isApproved || run.cruiseClassKey !== cruiseClassKey) return [];
    if (normalisation.normalisedWhPerKm === null || normalisation.uRunRelative === null) return [];
    return [
      {
        runId: run.key,
        setup: run.setupKey,
        car: run.carKey,
        loop: run.loopKey,
        session: run.sessionKey,
        z: Math.log(normalisation.normalisedWhPerKm),
        u: normalisation.uRunRelative,
        shared: sharedContributions(
          runParts(
            {
              sessionId: run.sessionKey,
              carId: run.carKey,
              loopId: run.loopKey,
              modelId: run.setupKey.split('/')[0] ?? '',
              setupId: run.setupKey,
            },
            reduction.result,
          ),
        ),
      },
    ];
  });
}
