import type { StoredTrace } from '@/lib/capture/trace/storedTrace';
import { coastDownOf } from '@/lib/physics/coastDown';
import type { CruiseClass } from '@/lib/run/cruiseClass';
import type { RunRecord } from '@/lib/run/runRecord';
import { recordingSnapshot } from './recordingSnapshot';
import type {
  CalibrationSnapshot,
  CarSnapshot,
  LegSnapshot,
  LoopDriving,
  LoopSnapshot,
  ModelSnapshot,
  ReductionSnapshot,
} from './snapshot';
import { readSnapshot } from './stored';
import { weatherOfRecord } from './weatherOfRecord';

/** The things a run is about as they are kept, all there. What a column may hold is checked with the whole snapshot. */
export interface KnownSubjects {
  car: Omit<CarSnapshot, 'coastDown'> & {
    coastDownF0N: number | null;
    coastDownF1NPerKmh: number | null;
    coastDownF2NPerKmh2: number | null;
    model: Omit<ModelSnapshot, 'deliveredTyreKind'> & {
      /** Of its tyres as delivered. */
      levels: readonly { tyreKind: string | null }[];
    };
    calibrations: readonly (Omit<CalibrationSnapshot, 'measuredOn' | 'invalidatedOn'> & {
      measuredOn: Date;
      invalidatedOn: Date | null;
    })[];
  };
  setup: {
    id: string;
    levels: readonly {
      factor: string;
      level: { id: string; isBaseline: boolean; tyreKind: string | null };
    }[];
  };
  loop: Omit<LoopSnapshot, 'driving' | 'bearings' | 'legs'> & {
    bearings: unknown;
    legs: readonly (Omit<LegSnapshot, 'bearings'> & { bearings: unknown })[];
  };
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
  driving: LoopDriving | undefined,
): ReductionSnapshot {
  const taken = readSnapshot({
    version: 2,
    record,
    cruiseClass,
    car: { ...car, coastDown: coastDownOf(car) },
    model: { ...car.model, deliveredTyreKind: car.model.levels[0]?.tyreKind ?? null },
    setup: {
      id: setup.id,
      levels: setup.levels.map(({ factor, level }) => ({ ...level, factor, levelId: level.id })),
    },
    loop: { ...loop, driving: driving ?? null },
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
