/**
 * What of a trace anyone may see: the track without its ends, in metres east and north of its own first place, with
 * speed and height along the way. No latitude, no longitude and no time of day is in it.
 */

import type { TraceProfile } from './reduction';
import { type Place, planeAt, toPlane } from './route';
import type { TracePoint } from './tracePoint';
import { trimEnds } from './trimEnds';

export interface PublicPoint {
  readonly eastM: number;
  readonly northM: number;
  /** Along the road from the start of the run. */
  readonly distanceM: number;
  readonly speedMps: number;
  readonly heightM: number | null;
}

export interface PublicTrack {
  readonly trimM: number;
  /** Points of the run that are hidden, of all that were used. */
  readonly removed: number;
  readonly given: number;
  /** In stretches: a hole is where the run came near its ends again. */
  readonly stretches: readonly (readonly PublicPoint[])[];
}

const mostPoints = 600;

/** @param points those used, in order of time */
export function publicTrackOf(
  points: readonly TracePoint[],
  profile: TraceProfile,
  startMs: number,
  trimM: number,
): PublicTrack {
  const { stretches, given, removed } = trimEnds(points, trimM);
  const first = stretches[0]?.[0];
  const kept = given - removed;
  if (first === undefined) return { trimM, given, removed, stretches: [] };
  const plane = planeAt(first as Place);
  const every = Math.max(1, Math.ceil(kept / mostPoints));
  return {
    trimM,
    given,
    removed,
    stretches: stretches.map((stretch) =>
      stretch
        .filter((_, at) => at % every === 0 || at === stretch.length - 1)
        .map((point) => {
          const [eastM, northM] = toPlane(plane, point);
          const elapsedS = ((point.timeMs ?? startMs) - startMs) / 1000;
          const { distanceM, speedMps, heightM } = alongProfile(profile, elapsedS);
          return {
            eastM: Math.round(eastM),
            northM: Math.round(northM),
            distanceM: Math.round(distanceM),
            speedMps: round(speedMps, 2),
            heightM: heightM === null ? null : round(heightM, 1),
          };
        }),
    ),
  };
}

/** Straight between the profile's nodes. */
function alongProfile(profile: TraceProfile, elapsedS: number) {
  const last = profile.elapsedS.length - 1;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((profile.elapsedS[middle] as number) <= elapsedS) low = middle;
    else high = middle;
  }
  const [t0, t1] = [profile.elapsedS[low] as number, profile.elapsedS[high] as number];
  const share = t1 > t0 ? Math.min(1, Math.max(0, (elapsedS - t0) / (t1 - t0))) : 0;
  const between = (a: number, b: number) => a + share * (b - a);
  const [h0, h1] = [profile.heightM[low] ?? null, profile.heightM[high] ?? null];
  return {
    distanceM: between(profile.distanceM[low] as number, profile.distanceM[high] as number),
    speedMps: between(profile.speedMps[low] as number, profile.speedMps[high] as number),
    heightM: h0 === null || h1 === null ? null : between(h0, h1),
  };
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
