import type { CoastDownCoefficients } from '@/lib/physics/coastDown';
import type { BodyClass } from '@/lib/run/bodyClass';
import type { CruiseClass } from '@/lib/run/cruiseClass';
import type { BearingShare } from '@/lib/run/loopShape';
import type { RunRecord } from '@/lib/run/runRecord';
import type { TyreKind } from '@/lib/run/tyreKind';

/** A record without what people wrote freely and who was in front of them: no number follows from these. */
export type ReducedRecord = Omit<RunRecord, 'notes' | 'stationReport' | 'inFront'>;

/** What was known of the car when the run was submitted. Null where nobody said. */
export interface CarSnapshot {
  id: string;
  registeredMassKg: number | null;
  usableCapacityWh: number | null;
  dragAreaM2: number | null;
  rollingCoefficient: number | null;
  /** Of this very car, corrected to reference conditions by its owner. */
  coastDown: CoastDownCoefficients | null;
  ownValuesSource: string | null;
  placardFrontPa: number | null;
  placardRearPa: number | null;
}

export interface ModelSnapshot {
  id: string;
  bodyClass: BodyClass;
  kerbMassKg: number;
  usableCapacityWh: number | null;
  dragAreaM2: number | null;
  dragAreaSource: string | null;
  hasHeatPump: boolean;
  /** Of the tyres it was delivered with. */
  deliveredTyreKind: TyreKind | null;
}

export interface SetupLevelSnapshot {
  factor: string;
  levelId: string;
  isBaseline: boolean;
  tyreKind: TyreKind | null;
}

export interface LoopSnapshot {
  id: string;
  name: string;
  lengthM: number;
  lengthUncertaintyM: number;
  altitudeM: number;
  netClimbM: number;
  closureDistanceM: number;
  closureHeightM: number;
  sharedRouteShare: number;
  offCruiseShare: number;
  postedLimitMps: number;
  bearings: readonly BearingShare[];
  legs: readonly LegSnapshot[];
  /** From recordings of it at the run's class; null without any, and for a run with a recording of its own. */
  driving: LoopDriving | null;
}

/** How a loop is driven, from recordings of it: in place of what a run without one would have to solve from its time. */
export interface LoopDriving {
  recordings: number;
  /** M2/v² at cruise speed v; `u` as a further run of the loop has it. */
  meanSquareRatio: { value: number; u: number };
  /** Duration over that of cruising all the way. */
  timeRatio: number;
  /** Of all recordings, each counting its share. */
  brakingFalls: { fromMps: number; toMps: number; distanceM: number; count: number }[];
}

export interface LegSnapshot {
  direction: string;
  lengthM: number;
  netClimbM: number;
  bearings: readonly BearingShare[];
}

/** true = factor × indicated, found on a day (yyyy-mm-dd). Other tyres end it (`invalidatedOn`). */
export interface CalibrationSnapshot {
  instrument: string;
  factor: number;
  standardUncertainty: number;
  measuredOn: string;
  odometerM: number | null;
  invalidatedOn: string | null;
}

/** A value with its standard uncertainty. */
export interface Estimated {
  value: number;
  u: number;
}

/** The weather over the run as the station reports of its record gave it. */
export interface WeatherSnapshot {
  temperatureC: Estimated | null;
  dewPointC: Estimated | null;
  relativeHumidity: Estimated | null;
  altimeterPa: Estimated | null;
  windSpeedMps: Estimated | null;
}

/** What the run's own recording reduced to. It holds no place. */
export interface RecordingSnapshot {
  traceId: string;
  /** As recorded. */
  distanceM: number;
  /** Multiplies lengths and speeds so that they agree with the loop's length; null where none was worked out: as recorded. */
  lengthScale: number | null;
  gapDistanceM: number;
  meanSquareSpeedM2S2: number;
  slowDowns: readonly { fromMps: number; toMps: number; fallM: number | null }[];
  /** Null, like the distance of a fall, where it was reduced before the method asked for it. */
  durationS: number | null;
  cruise: {
    meanSpeedMps: number;
    spreadMps: number;
    durationS: number;
    withinBandShare: number;
    offCruiseShare: number;
  } | null;
  /** Share of the distance by direction of travel, in equal sectors clockwise from north. */
  sectorShares: readonly number[];
  closureDistanceM: number;
  netClimbM: number | null;
}

/**
 * Everything that a run's numbers are made from, as it stood when the run was submitted. A result depends on this and
 * on the version of the method, on nothing else.
 */
export interface ReductionSnapshot {
  version: 2;
  record: ReducedRecord;
  cruiseClass: CruiseClass;
  car: CarSnapshot;
  model: ModelSnapshot;
  setup: { id: string; levels: readonly SetupLevelSnapshot[] };
  loop: LoopSnapshot;
  calibrations: readonly CalibrationSnapshot[];
  /** Null without station reports that can be read. */
  weather: WeatherSnapshot | null;
  /** Null for a run without a recording. */
  recording: RecordingSnapshot | null;
}
