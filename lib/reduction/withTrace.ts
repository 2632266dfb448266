import type { RunQuantity } from '@/lib/run/fields/table';
import type { QuantityReading } from '@/lib/run/runRecord';
import type { RunSpeed } from './runSpeed';
import type { RunTrace } from './runTrace';
import type { ReducedRecord } from './snapshot';

/** Where each of these figures of a run was taken from. */
export interface TraceUse {
  traceId: string;
  /** As recorded. */
  distanceM: number;
  /** By which its speeds were multiplied; missing in results from before there was one. */
  lengthScale?: number | undefined;
  distanceCheck: RunTrace['distanceCheck'];
  reasonsNotUsed: string[];
  sources: Record<
    'cruiseSpeed' | 'meanSquareSpeed' | 'slowDowns' | 'bearings' | 'netClimb',
    'trace' | 'other'
  >;
  cruise: RunTrace['cruise'];
}

/** What of the case a recording says better than the loop and the clock do. */
export interface TraceCase {
  meanSquareSpeedM2S2: number;
  slowDowns: { fromMps: number; toMps: number; distanceM?: number }[];
  bearings: RunTrace['bearings'];
  /** Null where the loop's own climb holds. */
  netClimb: { valueM: number; uM: number } | null;
}

type UsedTrace = RunTrace & { cruise: NonNullable<RunTrace['cruise']> };

/** A mean over minutes of cruise by satellite fixes: common practice, no source. */
const CRUISE_SPEED_U_MPS = 0.2 / 3.6;
/** Normal deviate beyond which typed and recorded speed cannot both be true: 1 % two-sided. */
const DISAGREES_BEYOND = 2.576;
/** Height by satellite, start against finish an hour later: common practice, no source. */
const HEIGHT_DIFFERENCE_U_M = 5;
/** A finish farther than this from the start is another place than the loop's, at another height. Own judgement. */
const SAME_PLACE_M = 200;

export function usable(trace: RunTrace | undefined): UsedTrace | undefined {
  if (trace === undefined || trace.cruise === null || trace.reasonsNotUsed.length > 0) return undefined;
  return { ...trace, cruise: trace.cruise };
}

/** The recorded speed in place of the typed one; where they contradict, widened by the difference, as either may be wrong. */
export function speedWithTrace(byForm: RunSpeed, trace: UsedTrace | undefined): RunSpeed {
  if (trace === undefined) return byForm;
  const tracedMps = trace.cruise.meanSpeedMps;
  const differenceMps = byForm.cruiseSpeedMps - tracedMps;
  const agrees =
    !Number.isFinite(differenceMps) ||
    Math.abs(differenceMps) <= DISAGREES_BEYOND * Math.hypot(byForm.uMps, CRUISE_SPEED_U_MPS);
  return {
    ...byForm,
    cruiseSpeedMps: tracedMps,
    uMps: Math.hypot(CRUISE_SPEED_U_MPS, agrees ? 0 : differenceMps),
    source: 'trace',
    byForm: { cruiseSpeedMps: byForm.cruiseSpeedMps, uMps: byForm.uMps, source: byForm.source, agrees },
  };
}

/** GPS heights are worse than a loop's own, unless the run ended elsewhere than the loop does. */
export function traceCase(trace: UsedTrace | undefined): TraceCase | undefined {
  if (trace === undefined) return undefined;
  const endsElsewhere = trace.closureDistanceM > SAME_PLACE_M && trace.netClimbM !== null;
  return {
    meanSquareSpeedM2S2: trace.meanSquareSpeedM2S2,
    slowDowns: trace.slowDowns.map(({ fallM, ...fall }) => ({
      ...fall,
      ...(fallM === null ? {} : { distanceM: fallM }),
    })),
    bearings: trace.bearings,
    netClimb: endsElsewhere
      ? {
          valueM: trace.netClimbM ?? 0,
          uM: HEIGHT_DIFFERENCE_U_M,
        }
      : null,
  };
}

export function traceUse(trace: RunTrace | undefined): TraceUse | null {
  if (trace === undefined) return null;
  const used = usable(trace);
  const of = (isFromTrace: boolean) => (isFromTrace ? 'trace' : 'other');
  return {
    traceId: trace.traceId,
    distanceM: trace.distanceM,
    ...(trace.lengthScale === null ? {} : { lengthScale: trace.lengthScale }),
    distanceCheck: trace.distanceCheck,
    reasonsNotUsed: trace.reasonsNotUsed,
    sources: {
      cruiseSpeed: of(used !== undefined),
      meanSquareSpeed: of(used !== undefined),
      slowDowns: of(used !== undefined),
      bearings: of(used !== undefined),
      netClimb: of(traceCase(used)?.netClimb != null),
    },
    cruise: trace.cruise,
  };
}

/** The record as the rules judge it: with the recorded speed and share where there is a recording, not the typed ones. */
export function recordWithTrace(record: ReducedRecord, trace: UsedTrace | undefined): ReducedRecord {
  if (trace === undefined) return record;
  const { meanSpeedMps, withinBandShare } = trace.cruise;
  return {
    ...record,
    trueSpeedMethod: 'positioning',
    readings: {
      ...record.readings,
      trueSpeed: recorded('trueSpeed', meanSpeedMps, (meanSpeedMps * 3.6).toFixed(2), 'km/h'),
      withinBandShare: recorded('withinBandShare', withinBandShare, (100 * withinBandShare).toFixed(1), '%'),
    },
  };
}

export function loopWithTrace<Loop extends { offCruiseShare: number; closureDistanceM: number }>(
  loop: Loop,
  trace: UsedTrace | undefined,
): Loop {
  if (trace === undefined) return loop;
  return {
    ...loop,
    offCruiseShare: trace.cruise.offCruiseShare,
    closureDistanceM: trace.closureDistanceM,
  };
}

function recorded(
  quantity: RunQuantity,
  value: number,
  enteredText: string,
  enteredUnit: QuantityReading['enteredUnit'],
): QuantityReading {
  return {
    quantity,
    moment: 'cruise',
    instrument: 'positioning',
    enteredText,
    enteredUnit,
    value,
    low: value,
    high: value,
  };
}
