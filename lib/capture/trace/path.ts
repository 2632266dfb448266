/**
 * Distance along a cleaned trace, and the same trace on an even grid of time, on which everything else is worked out.
 *
 * Distance is summed between anchors at least 3 m apart: below that a step is mostly the receiver's noise, and a car at
 * rest would seem to crawl. At 30 m/s and ten points a second every point is an anchor.
 */
import type { CleanTrace } from './clean';
import { distanceBetweenM } from './geodesic';

const anchorStepM = 3;
/** Half the span of the central difference that makes a speed out of positions. */
const halfSpanS = 2.5;
const wantedStepS = 1;

export interface Gap {
  readonly startS: number;
  readonly durationS: number;
  readonly distanceM: number;
}

export interface TracePath {
  /** Along the road from the first point; one a point. */
  readonly distanceM: Float64Array;
  readonly totalM: number;
  readonly durationS: number;
  readonly gaps: readonly Gap[];
}

export type SpeedSource = 'receiver' | 'position';

/** Nodes k = 0 … n at times k·stepS, from the first point to the last. */
export interface TimeGrid {
  readonly stepS: number;
  readonly distanceM: Float64Array;
  readonly speedMps: Float64Array;
  readonly speedSource: SpeedSource;
}

export function pathOf(trace: CleanTrace, maxPauseS: number): TracePath {
  const { latitudeDeg, longitudeDeg, timeS } = trace;
  const count = timeS.length;
  const distanceM = new Float64Array(count);
  const gaps: Gap[] = [];
  let anchor = 0;
  for (let at = 1; at < count; at++) {
    const step = distanceBetweenM(
      latitudeDeg[anchor] as number,
      longitudeDeg[anchor] as number,
      latitudeDeg[at] as number,
      longitudeDeg[at] as number,
    );
    const pause = (timeS[at] as number) - (timeS[at - 1] as number);
    if (pause > maxPauseS) gaps.push({ startS: timeS[at - 1] as number, durationS: pause, distanceM: step });
    if (step < anchorStepM && at < count - 1) continue;
    distanceM[at] = (distanceM[anchor] as number) + step;
    spreadBetween(distanceM, timeS, anchor, at);
    anchor = at;
  }
  return { distanceM, totalM: distanceM.at(-1) ?? 0, durationS: timeS.at(-1) ?? 0, gaps };
}

/** Points between two anchors share the step in proportion to time. */
function spreadBetween(distanceM: Float64Array, timeS: Float64Array, from: number, to: number): void {
  const t0 = timeS[from] as number;
  const d0 = distanceM[from] as number;
  const slope = ((distanceM[to] as number) - d0) / ((timeS[to] as number) - t0);
  for (let at = from + 1; at < to; at++) distanceM[at] = d0 + slope * ((timeS[at] as number) - t0);
}

/**
 * Speed is the receiver's own (Doppler, better than positions) where at least 95 % of the points have one and its
 * integral agrees with the distance within 2 %; otherwise the central difference of distance over 5 s.
 */
export function gridOf(trace: CleanTrace, path: TracePath): TimeGrid {
  const nodes = Math.max(2, Math.round(path.durationS / wantedStepS) + 1);
  const stepS = path.durationS / (nodes - 1);
  const distanceM = resample(trace.timeS, path.distanceM, nodes, stepS);
  const reported = trace.speedMps.reduce((n, v) => (Number.isNaN(v) ? n : n + 1), 0);
  if (reported >= 0.95 * trace.speedMps.length) {
    const speedMps = resample(...withoutMissing(trace.timeS, trace.speedMps), nodes, stepS);
    let integral = 0;
    for (let k = 1; k < nodes; k++)
      integral += (((speedMps[k - 1] as number) + (speedMps[k] as number)) / 2) * stepS;
    if (Math.abs(integral - path.totalM) <= 0.02 * path.totalM) {
      return { stepS, distanceM, speedMps, speedSource: 'receiver' };
    }
  }
  return { stepS, distanceM, speedMps: differentiate(distanceM, stepS), speedSource: 'position' };
}

/** Linear interpolation of y(x) at 0, step, 2·step …; x increasing. */
export function resample(x: Float64Array, y: Float64Array, nodes: number, step: number): Float64Array {
  const out = new Float64Array(nodes);
  let at = 0;
  for (let k = 0; k < nodes; k++) {
    const wanted = k * step;
    while (at + 2 < x.length && (x[at + 1] as number) < wanted) at++;
    const x0 = x[at] as number;
    const x1 = x[at + 1] ?? x0;
    const y0 = y[at] as number;
    const y1 = y[at + 1] ?? y0;
    const share = x1 > x0 ? Math.min(1, Math.max(0, (wanted - x0) / (x1 - x0))) : 0;
    out[k] = y0 + share * (y1 - y0);
  }
  return out;
}

export function withoutMissing(x: Float64Array, y: Float64Array): [Float64Array, Float64Array] {
  const there = (_: number, at: number) => !Number.isNaN(y[at] as number);
  return [x.filter(there), y.filter(there)];
}

function differentiate(distanceM: Float64Array, stepS: number): Float64Array {
  const half = Math.max(1, Math.round(halfSpanS / stepS));
  const last = distanceM.length - 1;
  return distanceM.map((_, k) => {
    const from = Math.max(0, k - half);
    const to = Math.min(last, k + half);
    return ((distanceM[to] as number) - (distanceM[from] as number)) / ((to - from) * stepS);
  });
}
