/**
 * A trace's fixes smoothed, piece by piece between gaps: far where the car holds its way and speed, little where it
 * brakes, accelerates or turns sharply, which a first pass finds (adjustable level of process noise: Y. Bar-Shalom,
 * X.-R. Li, T. Kirubarajan, Estimation with Applications to Tracking and Navigation, 2001, 11.2.2).
 */
import type { CleanTrace } from './clean';
import { metresPerDegree } from './geodesic';
import { resample } from './resample';
import { type Smoothed, smoothColumns } from './smooth';
import { accelerationNoise } from './speedNoise';

/**
 * Own choice, by drives of known speed with noise of 3 m: M2 comes out within 0.1 % of the true one, and consumption
 * within 0.1 % of what the true speeds give.
 */
const steadyReachS = 3;
/** Of these the first that leaves no more noise in the acceleration than `calmMps2`; the last where none does. */
const manoeuvreReachesS = [0.8, 1, 1.2, 1.5];
/** About what a car loses by coasting: more would seem to brake. */
const calmMps2 = 0.32;
/** Smoothed noise is unrelated over this. */
const lagS = 12;
/** In the first pass. */
const manoeuvreMps2 = 0.5;
/** Sharper, the longer smoothing would cut the corner: it takes (ω·h)⁴ of it, 0.8 %. */
const turningRadPerS = 0.1;
/** Slower, noise alone turns the direction. */
const leastTurningMps = 2;
/** Acceleration is taken over this time on either side. */
const halfSpanS = 1;

export interface SmoothedFixes {
  /** In degrees, and degrees a second; one a point. */
  readonly latitude: Smoothed;
  readonly longitude: Smoothed;
}

/** @param maxPauseS a longer pause ends a piece, and nothing is smoothed over it */
export function smoothFixes(trace: CleanTrace, maxPauseS: number): SmoothedFixes {
  const count = trace.timeS.length;
  const empty = (): Smoothed => ({ value: new Float64Array(count), rate: new Float64Array(count) });
  const [latitude, longitude] = [empty(), empty()];
  let from = 0;
  for (let k = 1; k <= count; k++) {
    const isEnd = k === count || (trace.timeS[k] as number) - (trace.timeS[k - 1] as number) > maxPauseS;
    if (!isEnd) continue;
    const timeS = trace.timeS.subarray(from, k);
    const columns = [trace.latitudeDeg.subarray(from, k), trace.longitudeDeg.subarray(from, k)];
    const first = smoothColumns(timeS, columns, evenReach(timeS, steadyReachS)) as [Smoothed, Smoothed];
    const manoeuvres = manoeuvresIn(timeS, ...first);
    const reachS = manoeuvres.includes(1)
      ? reachesOf(timeS, manoeuvres, manoeuvreReachS(timeS, columns))
      : null;
    const second = reachS === null ? first : smoothColumns(timeS, columns, reachS);
    for (const [into, smoothed] of [
      [latitude, second[0]],
      [longitude, second[1]],
    ] as const) {
      into.value.set((smoothed as Smoothed).value, from);
      into.rate.set((smoothed as Smoothed).rate, from);
    }
    from = k;
  }
  return { latitude, longitude };
}

function evenReach(timeS: Float64Array, seconds: number): Float64Array {
  return new Float64Array(timeS.length).fill(seconds);
}

/** How little may be smoothed where the car brakes: as far as the noise of these fixes allows. */
function manoeuvreReachS(timeS: Float64Array, columns: readonly Float64Array[]): number {
  const [t0, t1] = [timeS[0] as number, timeS.at(-1) as number];
  const nodes = Math.max(2, Math.round(t1 - t0) + 1);
  const stepS = (t1 - t0) / (nodes - 1);
  const elapsedS = timeS.map((t) => t - t0);
  const calm = manoeuvreReachesS.find((seconds) => {
    const [latitude, longitude] = smoothColumns(timeS, columns, evenReach(timeS, seconds));
    if (latitude === undefined || longitude === undefined) return false;
    const { east, north } = metresPerDegree(latitude.value[0] as number);
    const speedMps = latitude.rate.map((rate, k) =>
      Math.hypot(north * rate, east * (longitude.rate[k] as number)),
    );
    const even = resample(elapsedS, speedMps, nodes, stepS);
    return accelerationNoise(even, stepS, Math.round(lagS / stepS)) <= calmMps2 ** 2;
  });
  return calm ?? (manoeuvreReachesS.at(-1) as number);
}

function reachesOf(timeS: Float64Array, manoeuvres: Uint8Array, seconds: number): Float64Array {
  const reachS = evenReach(timeS, steadyReachS);
  // and as long before and after as the smoothing would carry it
  const mark = (from: number, step: 1 | -1) => {
    let lastS = Number.NaN;
    for (let k = from; k >= 0 && k < timeS.length; k += step) {
      const t = timeS[k] as number;
      if (manoeuvres[k] === 1) lastS = t;
      if (Math.abs(t - lastS) <= steadyReachS) reachS[k] = seconds;
    }
  };
  mark(0, 1);
  mark(timeS.length - 1, -1);
  return reachS;
}

/** 1 where speed or direction changes faster than a car on its way does. */
function manoeuvresIn(timeS: Float64Array, latitude: Smoothed, longitude: Smoothed): Uint8Array {
  const { east, north } = metresPerDegree(latitude.value[0] as number);
  const last = timeS.length - 1;
  let [before, after] = [0, 0];
  return Uint8Array.from(timeS, (t, k) => {
    while (before + 1 < k && (timeS[before + 1] as number) <= t - halfSpanS) before++;
    while (after < last && (timeS[after] as number) < t + halfSpanS) after++;
    const span = (timeS[after] as number) - (timeS[before] as number);
    const [n0, n1] = [north * (latitude.rate[before] as number), north * (latitude.rate[after] as number)];
    const [e0, e1] = [east * (longitude.rate[before] as number), east * (longitude.rate[after] as number)];
    const [v0, v1] = [Math.hypot(n0, e0), Math.hypot(n1, e1)];
    const isMoving = Math.min(v0, v1) >= leastTurningMps;
    const turnRad = isMoving ? Math.atan2(e0 * n1 - n0 * e1, n0 * n1 + e0 * e1) : 0;
    const isManoeuvre = Math.abs(v1 - v0) > manoeuvreMps2 * span || Math.abs(turnRad) > turningRadPerS * span;
    return isManoeuvre ? 1 : 0;
  });
}
