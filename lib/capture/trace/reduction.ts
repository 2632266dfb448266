/** What a trace reduces to. Every length in m, time in s from the first point used, speed in m/s. */
import type { Exclusion, ExclusionReason } from './clean';
import type { Climb } from './elevation';
import type { LoopMatch, LoopProposal } from './loopMatch';
import type { Gap, SpeedSource } from './path';
import type { Bearings } from './route';
import type { Cruise, SlowDown, Stop } from './speed';

export interface TraceCounts {
  /** given = used + excluded. */
  readonly given: number;
  readonly used: number;
  readonly excluded: number;
  readonly byReason: Readonly<Record<ExclusionReason, number>>;
  /** Heights left out as spikes from points that were otherwise used. */
  readonly elevationSpikes: number;
}

export interface Leg {
  readonly direction: 'outbound' | 'return';
  readonly distanceM: number;
  readonly durationS: number;
  readonly meanSpeedMps: number;
  readonly meanSquareSpeedM2S2: number;
  readonly climb: Climb | null;
  readonly bearings: Bearings;
}

export interface TurnaroundFound {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly distanceM: number;
  readonly elapsedS: number;
}

/** Columns of equal length, thinned for drawing. */
export interface TraceProfile {
  readonly elapsedS: readonly number[];
  readonly distanceM: readonly number[];
  readonly speedMps: readonly number[];
  readonly heightM: readonly (number | null)[];
  readonly powerW: readonly (number | null)[];
}

export interface ReducedTrace {
  readonly ok: true;
  readonly counts: TraceCounts;
  readonly excluded: readonly Exclusion[];
  readonly startMs: number;
  readonly endMs: number;
  readonly distanceM: number;
  readonly durationS: number;
  readonly meanSpeedMps: number;
  readonly meanSquareSpeedM2S2: number;
  readonly speedSource: SpeedSource;
  readonly gaps: readonly Gap[];
  readonly gapDistanceM: number;
  readonly closureDistanceM: number;
  /** Height of the finish less that of the start; null without heights. */
  readonly closureHeightM: number | null;
  readonly turnaround: TurnaroundFound | null;
  /** Null where there is no turnaround. */
  readonly sharedRouteShare: number | null;
  readonly legs: readonly [Leg, Leg] | null;
  readonly cruise: Cruise | null;
  readonly stops: readonly Stop[];
  readonly slowDowns: readonly SlowDown[];
  readonly squaredSpeedDropM2S2: number;
  readonly climb: Climb | null;
  readonly bearings: Bearings;
  /** From the battery's power, where a logger gave it for at least 95 % of the points. */
  readonly energyWh: number | null;
  readonly matches: readonly LoopMatch[];
  /** Where no known loop matches and the trace is an out-and-back. */
  readonly proposal: LoopProposal | null;
  readonly profile: TraceProfile;
  /** Whole sentences: what a reader of the figures should know. */
  readonly notes: readonly string[];
}

export interface IrreducibleTrace {
  readonly ok: false;
  readonly reason: 'noTimes' | 'tooFewPoints' | 'tooShort' | 'tooLong';
  readonly message: string;
  readonly counts: TraceCounts;
}

export type TraceReduction = ReducedTrace | IrreducibleTrace;
