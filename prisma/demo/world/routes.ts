import type { BearingShare } from './types';

/** A stretch of road that ends in a given bearing (degrees from north), turning evenly towards it. */
export interface Stretch {
  lengthM: number;
  endBearingDeg: number;
}

export interface RoutePoint {
  x: number;
  y: number;
  distanceM: number;
  bearingDeg: number;
}

const STEP_M = 500;

/** Walks a route in local metres (x east, y north) from the origin, in steps of half a kilometre. */
export function walkRoute(startBearingDeg: number, stretches: readonly Stretch[]): RoutePoint[] {
  const points: RoutePoint[] = [{ x: 0, y: 0, distanceM: 0, bearingDeg: startBearingDeg }];
  let [x, y, distanceM, bearingDeg] = [0, 0, 0, startBearingDeg];
  for (const stretch of stretches) {
    const steps = Math.max(1, Math.round(stretch.lengthM / STEP_M));
    const turnDeg = signedTurn(bearingDeg, stretch.endBearingDeg) / steps;
    const stepM = stretch.lengthM / steps;
    for (let i = 0; i < steps; i++) {
      bearingDeg += turnDeg;
      const radians = (bearingDeg * Math.PI) / 180;
      x += stepM * Math.sin(radians);
      y += stepM * Math.cos(radians);
      distanceM += stepM;
      points.push({ x, y, distanceM, bearingDeg: wrap(bearingDeg) });
    }
  }
  return points;
}

/** Shares of the distance by bearing, in bins of ten degrees named by their middle. */
export function bearingShares(points: readonly RoutePoint[]): BearingShare[] {
  const total = points.at(-1)?.distanceM ?? 0;
  const shares = new Map<number, number>();
  for (let i = 1; i < points.length; i++) {
    const [before, here] = [points[i - 1], points[i]];
    if (before === undefined || here === undefined) continue;
    const bin = wrap(Math.round(here.bearingDeg / 10) * 10);
    shares.set(bin, (shares.get(bin) ?? 0) + (here.distanceM - before.distanceM) / total);
  }
  return sorted([...shares].map(([bearingDeg, share]) => ({ bearingDeg, share })));
}

export function reverseBearings(bearings: readonly BearingShare[]): BearingShare[] {
  return sorted(bearings.map(({ bearingDeg, share }) => ({ bearingDeg: wrap(bearingDeg + 180), share })));
}

/** The bearings of two legs of equal length taken together. */
export function bothWays(outbound: readonly BearingShare[]): BearingShare[] {
  const shares = new Map<number, number>();
  for (const { bearingDeg, share } of [...outbound, ...reverseBearings(outbound)]) {
    shares.set(bearingDeg, (shares.get(bearingDeg) ?? 0) + share / 2);
  }
  return sorted([...shares].map(([bearingDeg, share]) => ({ bearingDeg, share })));
}

/** Out along the points and back on the other carriageway, `gapM` to the left of the way out. */
export function outAndBack(points: readonly RoutePoint[], gapM: number): { x: number; y: number }[] {
  const out = points.map(({ x, y }) => ({ x: Math.round(x), y: Math.round(y) }));
  const back = points.map(({ x, y, bearingDeg }) => {
    const left = ((bearingDeg - 90) * Math.PI) / 180;
    return { x: Math.round(x + gapM * Math.sin(left)), y: Math.round(y + gapM * Math.cos(left)) };
  });
  return [...out, ...back.reverse()];
}

function signedTurn(fromDeg: number, toDeg: number): number {
  return ((((toDeg - fromDeg + 180) % 360) + 360) % 360) - 180;
}

function wrap(bearingDeg: number): number {
  return ((bearingDeg % 360) + 360) % 360;
}

function sorted(bearings: BearingShare[]): BearingShare[] {
  return bearings.sort((a, b) => a.bearingDeg - b.bearingDeg);
}
