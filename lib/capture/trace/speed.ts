/**
 * What the speed did: its moments, the cruise, the stops and the slow-downs. All on an even time grid.
 */
import { brakingFalls } from '@/lib/physics/braking';
import type { TimeGrid } from './path';

/** Below this a car counts as standing. */
const standingMps = 0.5;
const minStopS = 3;
/** Cruise is where speed stays within this share of the cruise speed for at least this long. */
const cruiseBandShare = 0.1;
const minCruiseS = 30;
/** Protocol band around the class (method A5). */
export const classBandMps = 3 / 3.6;

export interface Moments {
  readonly meanSpeedMps: number;
  /** Distance-weighted mean of the squared speed, ∫v³dt/∫v dt (method A3): at steady speed v². */
  readonly meanSquareSpeedM2S2: number;
}

export interface CruiseSegment {
  readonly startS: number;
  readonly endS: number;
  readonly distanceM: number;
}

export interface Cruise {
  readonly segments: readonly CruiseSegment[];
  readonly durationS: number;
  readonly distanceM: number;
  /** Cruise distance over cruise time. */
  readonly meanSpeedMps: number;
  /** Standard deviation over cruise time. */
  readonly spreadMps: number;
  /** Share of cruise time within ±3 km/h of the class, or of the mean where no class was given. */
  readonly withinBandShare: number;
  /** Share of the whole distance driven outside the cruise segments. */
  readonly offCruiseShare: number;
}

export interface Stop {
  readonly startS: number;
  readonly durationS: number;
  readonly distanceM: number;
}

/** One braking fall of the speed from a crest to a trough. */
export interface SlowDown {
  readonly startS: number;
  readonly endS: number;
  /** Place of its trough along the road. */
  readonly distanceM: number;
  /** Driven from crest to trough; missing in recordings reduced under the first version of the method. */
  readonly fallM?: number | undefined;
  readonly fromMps: number;
  readonly toMps: number;
}

/**
 * Trapezoids between nodes `from` and `to`. Noise of variance s² in the speed adds 3·v·s² to v³ on average, which is
 * taken off.
 */
export function momentsOf(grid: TimeGrid, from = 0, to = grid.speedMps.length - 1): Moments {
  let first = 0;
  let third = 0;
  for (let k = from; k < to; k++) {
    const a = grid.speedMps[k] as number;
    const b = grid.speedMps[k + 1] as number;
    first += (a + b) / 2;
    // Exact for a speed that runs straight between nodes: ∫v³ = (a³ + a²b + ab² + b³)/4.
    third += ((a + b) * (a * a + b * b)) / 4 - 3 * grid.speedNoiseM2S2 * ((a + b) / 2);
  }
  const metres = (grid.distanceM[to] as number) - (grid.distanceM[from] as number);
  return {
    meanSpeedMps: metres / ((to - from) * grid.stepS),
    meanSquareSpeedM2S2: first > 0 ? Math.max(0, third / first) : 0,
  };
}

/**
 * The speed at which most distance was covered: the mode of the distance-weighted histogram in steps of 0.25 m/s,
 * smoothed over ± 1 m/s with triangular weights. Null when the car hardly moved.
 */
export function commonestSpeedMps(grid: TimeGrid): number | null {
  const perMps = 4;
  const weights = new Float64Array(120 * perMps);
  for (const v of grid.speedMps) {
    const bin = Math.round(v * perMps);
    if (v > 5 && bin < weights.length) weights[bin] = (weights[bin] as number) + v;
  }
  let best = -1;
  let most = 0;
  for (let bin = 0; bin < weights.length; bin++) {
    let sum = 0;
    for (let shift = 1 - perMps; shift < perMps; shift++) {
      sum += (perMps - Math.abs(shift)) * (weights[bin + shift] ?? 0);
    }
    if (sum > most) {
      most = sum;
      best = bin;
    }
  }
  return best < 0 ? null : best / perMps;
}

export function cruiseOf(grid: TimeGrid, classMps: number | null): Cruise | null {
  const common = commonestSpeedMps(grid);
  if (common === null) return null;
  const inBand = (k: number) => Math.abs((grid.speedMps[k] as number) - common) <= cruiseBandShare * common;
  const segments: CruiseSegment[] = [];
  let seconds = 0;
  let metres = 0;
  const speeds: number[] = [];
  for (const [from, to] of stretches(grid.speedMps.length, inBand)) {
    const durationS = (to - from) * grid.stepS;
    if (durationS < minCruiseS) continue;
    const distanceM = (grid.distanceM[to] as number) - (grid.distanceM[from] as number);
    segments.push({ startS: from * grid.stepS, endS: to * grid.stepS, distanceM });
    seconds += durationS;
    metres += distanceM;
    for (let k = from; k <= to; k++) speeds.push(grid.speedMps[k] as number);
  }
  const total = grid.distanceM.at(-1) as number;
  if (segments.length === 0 || !(total > 0)) return null;
  const mean = metres / seconds;
  const centre = classMps ?? mean;
  const average = speeds.reduce((sum, v) => sum + v, 0) / speeds.length;
  const variance = speeds.reduce((sum, v) => sum + (v - average) ** 2, 0) / Math.max(1, speeds.length - 1);
  const trueVariance = Math.max(0, variance - grid.speedNoiseM2S2);
  // deviations shrunk until they spread as the speed itself does (T. A. Louis, J. Amer. Statist. Assoc. 79 (1984) 393)
  const shrink = variance > 0 ? Math.sqrt(trueVariance / variance) : 1;
  const isInClass = (v: number) => Math.abs(average + shrink * (v - average) - centre) <= classBandMps;
  return {
    segments,
    durationS: seconds,
    distanceM: metres,
    meanSpeedMps: mean,
    spreadMps: Math.sqrt(trueVariance),
    withinBandShare: speeds.filter(isInClass).length / speeds.length,
    offCruiseShare: Math.max(0, 1 - metres / total),
  };
}

export function stopsOf(grid: TimeGrid): Stop[] {
  const isStanding = (k: number) => (grid.speedMps[k] as number) < standingMps;
  return [...stretches(grid.speedMps.length, isStanding)]
    .map(([from, to]) => ({
      startS: from * grid.stepS,
      durationS: (to - from) * grid.stepS,
      distanceM: grid.distanceM[from] as number,
    }))
    .filter((stop) => stop.durationS >= minStopS);
}

/** Where the car braked (method A3), with the distance that it took. */
export function slowDownsOf(grid: TimeGrid): SlowDown[] {
  return brakingFalls(grid.distanceM, grid.speedMps).map(({ from, to, fromMps, toMps, distanceM }) => ({
    startS: from * grid.stepS,
    endS: to * grid.stepS,
    distanceM: grid.distanceM[to] as number,
    fallM: distanceM,
    fromMps,
    toMps,
  }));
}

/** Σ(v_hi² − v_lo²) over the slow-downs: how much was braked, whatever the car. */
export function squaredSpeedDropM2S2(falls: readonly SlowDown[]): number {
  return falls.reduce((sum, fall) => sum + fall.fromMps ** 2 - fall.toMps ** 2, 0);
}

/** Runs of consecutive nodes that pass a test, as first and last node, two nodes at least. */
function* stretches(count: number, passes: (k: number) => boolean): Generator<[number, number]> {
  let from = -1;
  for (let k = 0; k <= count; k++) {
    const isIn = k < count && passes(k);
    if (isIn && from < 0) from = k;
    if (!isIn && from >= 0) {
      if (k - 1 > from) yield [from, k - 1];
      from = -1;
    }
  }
}
