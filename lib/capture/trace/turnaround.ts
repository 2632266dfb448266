/**
 * Where an out-and-back turned: the place about which the way there, run backwards, lies best on the way back.
 *
 * For a candidate node m the mismatch is the mean distance between the places m − x and m + x along the route, over 64
 * values of x up to the nearer end. Candidates are tried coarsely over the middle 60 % of the route, then node by node
 * around the best. The farthest place from the start would do for a straight road and fails on one that bends back.
 */
import { type Route, shareNear } from './route';

/** Carriageways of a motorway lie up to about this far apart (common practice, no source). */
const corridorM = 150;
/** Less than this in common, and the trace is no out-and-back. */
const minSharedShare = 0.5;
const samples = 64;

export interface Turnaround {
  /** Node of the route. */
  readonly node: number;
  readonly distanceM: number;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Share of both legs that lies within 150 m of the other one. */
  readonly sharedRouteShare: number;
}

export function findTurnaround(route: Route): Turnaround | null {
  const last = route.eastM.length - 1;
  if (last < 20) return null;
  const coarse = Math.max(1, Math.round(last / 100));
  let best = lowestMismatch(route, Math.round(last * 0.2), Math.round(last * 0.8), coarse);
  best = lowestMismatch(route, Math.max(1, best - coarse), Math.min(last - 1, best + coarse), 1);
  const outbound = shareNear(route, route, corridorM, 0, best, best, last);
  const back = shareNear(route, route, corridorM, best, last, 0, best);
  const sharedRouteShare = (outbound * best + back * (last - best)) / last;
  if (sharedRouteShare < minSharedShare) return null;
  return {
    node: best,
    distanceM: best * route.spacingM,
    latitudeDeg: route.latitudeDeg[best] as number,
    longitudeDeg: route.longitudeDeg[best] as number,
    sharedRouteShare,
  };
}

function lowestMismatch(route: Route, from: number, to: number, step: number): number {
  let best = from;
  let lowest = Number.POSITIVE_INFINITY;
  for (let node = from; node <= to; node += step) {
    const value = mismatchM(route, node);
    if (value < lowest) {
      lowest = value;
      best = node;
    }
  }
  return best;
}

function mismatchM(route: Route, node: number): number {
  const reach = Math.min(node, route.eastM.length - 1 - node);
  let sum = 0;
  for (let sample = 1; sample <= samples; sample++) {
    const x = Math.round((reach * sample) / samples);
    sum += Math.hypot(
      (route.eastM[node - x] as number) - (route.eastM[node + x] as number),
      (route.northM[node - x] as number) - (route.northM[node + x] as number),
    );
  }
  return sum / samples;
}
