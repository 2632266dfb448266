import type { StoredTrace } from '@/lib/capture/trace/storedTrace';
import { recordingSnapshot } from '@/lib/reduction/recordingSnapshot';
import type { LoopDriving, ReductionSnapshot } from '@/lib/reduction/snapshot';
import { readSnapshot } from '@/lib/reduction/stored';
import { weatherOfRecord } from '@/lib/reduction/weatherOfRecord';
import type { CruiseClass } from '@/lib/run/cruiseClass';
import type { RunRecord } from '@/lib/run/runRecord';
import type { ReductionSubjects } from '@/lib/store/runs';
import { coastDownOf } from '../cars/coastDownOf';

/** The stored things a run is about, all there. */
export interface KnownSubjects {
  car: NonNullable<ReductionSubjects['car']>;
  setup: NonNullable<ReductionSubjects['setup']>;
  loop: NonNullable<ReductionSubjects['loop']>;
  cruiseClass: CruiseClass;
}

export interface Recording {
  traceId: string;
  stored: Pick<StoredTrace, 'reduction'>;
}

/** What a run's numbers are made from, as it stands now: a copy that later changes of car, loop or setup leave alone. */
export function takeSnapshot(
  record: RunRecord,
  { car, setup, loop, cruiseClass }: KnownSubjects,
  recording: Recording | undefined,
  driving?: LoopDriving,
): ReductionSnapshot {
  const taken = readSnapshot({
    version: 1,
    record,
    cruiseClass,
    car: { ...car, coastDown: coastDownOf(car) },
    model: { ...car.model, deliveredTyreKind: car.model.levels[0]?.tyreKind ?? null },
    setup: {
      id: setup.id,
      levels: setup.levels.map(({ factor, level }) => ({ ...level, factor, levelId: level.id })),
    },
    loop: { ...loop, driving },
    calibrations: car.calibrations.map((each) => ({
      ...each,
      measuredOn: dayOf(each.measuredOn),
      invalidatedOn: each.invalidatedOn && dayOf(each.invalidatedOn),
    })),
    weather: weatherOfRecord(record),
    recording:
      recording === undefined ? null : recordingSnapshot(recording.traceId, recording.stored.reduction, loop),
  });
  if (!taken.ok)
    throw new Error(`a stored car, setup, loop or recording is not as it should be: ${taken.message}`);
  return taken.snapshot;
}

const dayOf = (date: Date): string => date.toISOString().slice(0, 10);
