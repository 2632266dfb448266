/**
 * Takes out of a trace the points that cannot be true, each with its reason; none is moved or invented.
 * Always: given = used + excluded.
 *
 * Order of the tests: no time; outside the run's window; time not increasing; a position no car could have reached. Times: the longest strictly
 * increasing subsequence is kept (patience sorting, Fredman, Discrete Math. 11 (1975) 29), which drops the fewest
 * points whether the receiver repeated a fix or its clock was set back. Positions: the trace is cut wherever the speed
 * between neighbours exceeds any car's; from the longest piece outwards, a piece stays only if it can be reached.
 */
import { distanceBetweenM, wrapDeg } from './geodesic';
import type { TimeWindow } from './loopWindow';
import type { TracePoint } from './tracePoint';

export type ExclusionReason = 'noTime' | 'outsideWindow' | 'duplicate' | 'clockStep' | 'jump';

export interface Exclusion {
  /** Index among the points given, from 0. */
  readonly index: number;
  readonly reason: ExclusionReason;
}

export interface CleanOptions {
  /** Between neighbours; 100 m/s is 360 km/h. */
  readonly maxSpeedMps: number;
  /** What two fixes may be apart by their errors alone: a degree written with 4 decimals has steps of 11 m. */
  readonly positionErrorM: number;
  /** A longer pause between points is a gap. */
  readonly maxPauseS: number;
  /** An elevation farther than this from the median of its neighbourhood is a spike. */
  readonly elevationSpikeM: number;
}

export const cleanOptions: CleanOptions = {
  maxSpeedMps: 100,
  positionErrorM: 20,
  maxPauseS: 10,
  elevationSpikeM: 30,
};

/** Points kept, by column; NaN where the file did not say. Longitudes run on across ±180° without a step. */
export interface CleanTrace {
  readonly given: number;
  readonly excluded: readonly Exclusion[];
  readonly indices: Uint32Array;
  readonly startMs: number;
  /** Seconds since the first point kept. */
  readonly timeS: Float64Array;
  readonly latitudeDeg: Float64Array;
  readonly longitudeDeg: Float64Array;
  readonly elevationM: Float64Array;
  readonly speedMps: Float64Array;
  readonly powerW: Float64Array;
  readonly elevationSpikes: number;
}

/** @param window only points between these instants are of the run */
export function cleanTrace(
  points: readonly TracePoint[],
  options: CleanOptions = cleanOptions,
  window?: TimeWindow,
): CleanTrace {
  const reasons = points.map(({ timeMs }): ExclusionReason | null => {
    if (timeMs === null) return 'noTime';
    return window !== undefined && (timeMs < window.startMs || timeMs > window.endMs)
      ? 'outsideWindow'
      : null;
  });
  markUnordered(points, reasons);
  markJumps(points, reasons, options);

  const excluded: Exclusion[] = [];
  const kept: number[] = [];
  for (const [index, reason] of reasons.entries()) {
    if (reason === null) kept.push(index);
    else excluded.push({ index, reason });
  }
  const column = (read: (point: TracePoint) => number | null) =>
    Float64Array.from(kept, (index) => read(points[index] as TracePoint) ?? Number.NaN);
  const startMs = kept.length > 0 ? (points[kept[0] as number]?.timeMs ?? 0) : 0;
  const elevationM = column((point) => point.elevationM);
  const elevationSpikes = dropSpikes(elevationM, options.elevationSpikeM);
  return {
    given: points.length,
    excluded,
    indices: Uint32Array.from(kept),
    startMs,
    timeS: column((point) => ((point.timeMs ?? 0) - startMs) / 1000),
    latitudeDeg: column((point) => point.latitudeDeg),
    longitudeDeg: unwrap(column((point) => point.longitudeDeg)),
    elevationM,
    speedMps: column((point) => point.speedMps),
    powerW: column((point) => point.powerW),
    elevationSpikes,
  };
}

function markUnordered(points: readonly TracePoint[], reasons: (ExclusionReason | null)[]): void {
  const candidates: number[] = [];
  let lastTimed = -1;
  for (const [index, point] of points.entries()) {
    if (reasons[index] !== null) continue;
    const previous = points[lastTimed];
    if (previous !== undefined && previous.timeMs === point.timeMs) {
      // Two fixes at one instant: the later adds nothing, wherever it lies.
      reasons[index] = 'duplicate';
      continue;
    }
    lastTimed = index;
    candidates.push(index);
  }
  const ordered = longestIncreasing(candidates.map((index) => points[index]?.timeMs ?? 0));
  let next = 0;
  for (const [at, index] of candidates.entries()) {
    if (ordered[next] === at) next++;
    else reasons[index] = 'clockStep';
  }
}

/** Places, in order, of a longest strictly increasing subsequence. */
function longestIncreasing(values: readonly number[]): number[] {
  const tails: number[] = [];
  const before = new Int32Array(values.length).fill(-1);
  for (const [at, value] of values.entries()) {
    let low = 0;
    let high = tails.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((values[tails[middle] as number] as number) < value) low = middle + 1;
      else high = middle;
    }
    before[at] = low > 0 ? (tails[low - 1] as number) : -1;
    tails[low] = at;
  }
  const places: number[] = [];
  for (let at = tails.at(-1) ?? -1; at >= 0; at = before[at] as number) places.push(at);
  return places.reverse();
}

function markJumps(
  points: readonly TracePoint[],
  reasons: (ExclusionReason | null)[],
  { maxSpeedMps, positionErrorM }: CleanOptions,
): void {
  const kept = points.flatMap((_, index) => (reasons[index] === null ? [index] : []));
  const reaches = (from: number, to: number): boolean => {
    const a = points[from] as TracePoint;
    const b = points[to] as TracePoint;
    const seconds = ((b.timeMs ?? 0) - (a.timeMs ?? 0)) / 1000;
    const metres = distanceBetweenM(a.latitudeDeg, a.longitudeDeg, b.latitudeDeg, b.longitudeDeg);
    return metres <= maxSpeedMps * seconds + positionErrorM;
  };
  const pieces: number[][] = [];
  for (const [at, index] of kept.entries()) {
    const previous = kept[at - 1];
    if (previous !== undefined && reaches(previous, index)) pieces.at(-1)?.push(index);
    else pieces.push([index]);
  }
  if (pieces.length < 2) return;
  let longest = 0;
  for (const [at, piece] of pieces.entries()) if (piece.length > (pieces[longest]?.length ?? 0)) longest = at;
  const drop = (piece: readonly number[]) => {
    for (const index of piece) reasons[index] = 'jump';
  };
  let edge = pieces[longest]?.at(-1) as number;
  for (const piece of pieces.slice(longest + 1)) {
    if (reaches(edge, piece[0] as number)) edge = piece.at(-1) as number;
    else drop(piece);
  }
  edge = pieces[longest]?.[0] as number;
  for (const piece of pieces.slice(0, longest).reverse()) {
    if (reaches(piece.at(-1) as number, edge)) edge = piece[0] as number;
    else drop(piece);
  }
}

/** Blanks elevations that stand apart from the median of seven; returns how many. The point itself stays. */
function dropSpikes(elevationM: Float64Array, limitM: number): number {
  const original = elevationM.slice();
  let count = 0;
  for (let at = 0; at < original.length; at++) {
    const value = original[at] as number;
    if (Number.isNaN(value) || !standsApart(original, at, limitM)) continue;
    const around = [...original.subarray(Math.max(0, at - 3), at + 4)]
      .filter((v) => !Number.isNaN(v))
      .sort((a, b) => a - b);
    if (around.length >= 3 && Math.abs(value - (around[around.length >> 1] as number)) > limitM) {
      elevationM[at] = Number.NaN;
      count++;
    }
  }
  return count;
}

/** A first look without sorting: the median lies among the neighbours, so all being near settles it. */
function standsApart(elevationM: Float64Array, at: number, limitM: number): boolean {
  const value = elevationM[at] as number;
  for (let k = Math.max(0, at - 3); k < Math.min(elevationM.length, at + 4); k++) {
    if (Math.abs((elevationM[k] as number) - value) > limitM) return true;
  }
  return false;
}

function unwrap(longitudeDeg: Float64Array): Float64Array {
  for (let at = 1; at < longitudeDeg.length; at++) {
    const previous = longitudeDeg[at - 1] as number;
    longitudeDeg[at] = previous + wrapDeg((longitudeDeg[at] as number) - previous);
  }
  return longitudeDeg;
}
