/**
 * The way driven, on an even grid of time: places, distance and speed, each with the noise of the fixes in mind. All
 * else that is said of a recording is worked out on it.
 */
import type { CleanTrace } from './clean';
import { distanceBetweenM, metresPerDegree } from './geodesic';
import { resample, withoutMissing } from './resample';
import { type SmoothedFixes, smoothFixes } from './smoothFixes';
import { speedNoiseM2S2 } from './speedNoise';

const wantedStepS = 1;
/** A receiver's own speeds err each for itself; positions share their errors over the reach of the smoothing. */
const receiverLagS = 2;
const positionLagS = 12;
/**
 * Slower is a car at rest whose fixes wander: 4 % of a Rayleigh deviate lies above 2.5 of its noise. The smoothing
 * itself swings by less than the floor where a car stops.
 */
const restingNoises = 2.5;
const restingMps = 0.3;

export interface Gap {
  readonly startS: number;
  readonly durationS: number;
  readonly distanceM: number;
}

export type SpeedSource = 'receiver' | 'position';

/** Nodes k = 0 … n at times k·stepS, from the first point to the last. */
export interface TimeGrid {
  readonly stepS: number;
  readonly distanceM: Float64Array;
  readonly speedMps: Float64Array;
  /** Variance of the noise that is left in a node's speed. */
  readonly speedNoiseM2S2: number;
  readonly speedSource: SpeedSource;
}

export interface TracePath {
  /** Along the road from the first point; one a point of the trace. */
  readonly distanceM: Float64Array;
  readonly totalM: number;
  readonly durationS: number;
  readonly gaps: readonly Gap[];
  /** Smoothed places, one a node of the grid. */
  readonly latitudeDeg: Float64Array;
  readonly longitudeDeg: Float64Array;
  readonly grid: TimeGrid;
}

/** @param trace at least two points */
export function pathOf(trace: CleanTrace, maxPauseS: number): TracePath {
  const { timeS } = trace;
  const fixes = smoothFixes(trace, maxPauseS);
  const durationS = timeS.at(-1) ?? 0;
  const nodes = Math.max(2, Math.round(durationS / wantedStepS) + 1);
  const stepS = durationS / (nodes - 1);
  const driven = nodesOf(timeS, fixes, nodes, stepS, maxPauseS);
  const noise = speedNoiseM2S2(driven.speedMps, Math.round(positionLagS / stepS));
  const speedMps = driven.speedMps.map((v) => withoutNoise(v, noise));
  const distanceM = new Float64Array(nodes);
  for (let k = 1; k < nodes; k++) {
    const step = (((speedMps[k - 1] as number) + (speedMps[k] as number)) / 2) * stepS;
    distanceM[k] = (distanceM[k - 1] as number) + step;
  }
  const ofPositions: TimeGrid = {
    stepS,
    distanceM,
    speedMps,
    speedNoiseM2S2: noise,
    speedSource: 'position',
  };
  return {
    distanceM: timeS.map((t) => atTime(distanceM, t / stepS)),
    totalM: distanceM[nodes - 1] as number,
    durationS,
    gaps: driven.gaps,
    latitudeDeg: driven.latitudeDeg,
    longitudeDeg: driven.longitudeDeg,
    grid: receiverGrid(trace, ofPositions) ?? ofPositions,
  };
}

/**
 * Speed of a node less what noise adds to its length. Noise n₁ along and n₂ across the way, of variance s² each, makes
 * E√((v + n₁)² + n₂²) = v + s²/2v (S. O. Rice, Bell Syst. Tech. J. 24 (1945) 46, 3.10, to first order), which taking
 * s² off the square takes away.
 */
function withoutNoise(speedMps: number, noiseM2S2: number): number {
  const isAtRest = speedMps <= Math.max(restingMps, restingNoises * Math.sqrt(noiseM2S2));
  return isAtRest ? 0 : Math.sqrt(speedMps * speedMps - noiseM2S2);
}

interface Nodes {
  readonly latitudeDeg: Float64Array;
  readonly longitudeDeg: Float64Array;
  /** With its noise. */
  readonly speedMps: Float64Array;
  readonly gaps: readonly Gap[];
}

/** Between two fixes the spline is the cubic of both ends' places and rates; over a gap, a straight line at one speed. */
function nodesOf(
  timeS: Float64Array,
  fixes: SmoothedFixes,
  nodes: number,
  stepS: number,
  maxPauseS: number,
): Nodes {
  const [latitudeDeg, longitudeDeg] = [new Float64Array(nodes), new Float64Array(nodes)];
  const speedMps = new Float64Array(nodes);
  const gaps: Gap[] = [];
  const { latitude, longitude } = fixes;
  let at = -1;
  let dt = 0;
  let gapSpeed: number | null = null;
  for (let k = 0; k < nodes; k++) {
    const t = k * stepS;
    while (at < 0 || (at + 2 < timeS.length && (timeS[at + 1] as number) < t)) {
      at++;
      dt = (timeS[at + 1] as number) - (timeS[at] as number);
      gapSpeed = null;
      if (dt <= maxPauseS) continue;
      const [lat, lon] = [latitude.value, longitude.value];
      const metres = distanceBetweenM(
        lat[at] as number,
        lon[at] as number,
        lat[at + 1] as number,
        lon[at + 1] as number,
      );
      gapSpeed = metres / dt;
      gaps.push({ startS: timeS[at] as number, durationS: dt, distanceM: metres });
    }
    const share = Math.min(1, Math.max(0, (t - (timeS[at] as number)) / dt));
    const between = gapSpeed === null ? cubic : straight;
    const north = between(latitude.value, latitude.rate, at, dt, share);
    const east = between(longitude.value, longitude.rate, at, dt, share);
    latitudeDeg[k] = north.value;
    longitudeDeg[k] = east.value;
    const scale = metresPerDegree(north.value);
    speedMps[k] = gapSpeed ?? Math.hypot(north.rate * scale.north, east.rate * scale.east);
  }
  return { latitudeDeg, longitudeDeg, speedMps, gaps };
}

type Between = (
  value: Float64Array,
  rate: Float64Array,
  at: number,
  dt: number,
  share: number,
) => { value: number; rate: number };

/** Hermite's cubic. */
const cubic: Between = (value, rate, at, dt, share) => {
  const [x0, x1] = [value[at] as number, value[at + 1] as number];
  const [v0, v1] = [rate[at] as number, rate[at + 1] as number];
  const [u, w] = [share, 1 - share];
  const rise = x1 - x0;
  return {
    value: x0 + u * u * (3 - 2 * u) * rise + dt * u * w * (w * v0 - u * v1),
    rate: (6 * u * w * rise) / dt + w * (1 - 3 * u) * v0 + u * (3 * u - 2) * v1,
  };
};

const straight: Between = (value, _rate, at, dt, share) => {
  const rise = (value[at + 1] as number) - (value[at] as number);
  return { value: (value[at] as number) + share * rise, rate: rise / dt };
};

/**
 * The receiver's own speed (Doppler, better than positions) where at least 95 % of the points have one and its integral
 * agrees with the distance within 2 %.
 */
function receiverGrid(trace: CleanTrace, { stepS, distanceM }: TimeGrid): TimeGrid | null {
  const nodes = distanceM.length;
  const reported = trace.speedMps.reduce((n, v) => (Number.isNaN(v) ? n : n + 1), 0);
  if (reported < 0.95 * trace.speedMps.length) return null;
  const speedMps = resample(...withoutMissing(trace.timeS, trace.speedMps), nodes, stepS);
  let integral = 0;
  for (let k = 1; k < nodes; k++) {
    integral += (((speedMps[k - 1] as number) + (speedMps[k] as number)) / 2) * stepS;
  }
  const totalM = distanceM[nodes - 1] as number;
  if (Math.abs(integral - totalM) > 0.02 * totalM) return null;
  const noise = speedNoiseM2S2(speedMps, Math.round(receiverLagS / stepS));
  return { stepS, distanceM, speedMps, speedNoiseM2S2: noise, speedSource: 'receiver' };
}

function atTime(values: Float64Array, node: number): number {
  const below = Math.min(values.length - 2, Math.max(0, Math.floor(node)));
  const share = Math.min(1, Math.max(0, node - below));
  return (1 - share) * (values[below] as number) + share * (values[below + 1] as number);
}
