/**
 * Takes the ends off a trace before anything of it is public, so that it does not lead to a door.
 *
 * Left out: every point within the given distance along the road of the first or the last point, and every point that
 * lies within the same distance of either as the crow flies, wherever in the trace it comes (passing home once more).
 * Where it resumes still tells the radius; it hides a door among many, it does not make a lone farm anonymous.
 */
import { distanceBetweenM } from './geodesic';
import type { TracePoint } from './tracePoint';

export const defaultTrimM = 500;

export interface TrimmedTrace {
  /** What is left, in stretches: joining over a hole would draw through the hidden place. */
  readonly stretches: readonly (readonly TracePoint[])[];
  readonly given: number;
  readonly removed: number;
}

export function trimEnds(points: readonly TracePoint[], trimM: number = defaultTrimM): TrimmedTrace {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return { stretches: [], given: 0, removed: 0 };
  const off = (a: TracePoint, b: TracePoint) =>
    distanceBetweenM(a.latitudeDeg, a.longitudeDeg, b.latitudeDeg, b.longitudeDeg);
  const along = new Float64Array(points.length);
  for (let k = 1; k < points.length; k++) {
    along[k] = (along[k - 1] as number) + off(points[k - 1] as TracePoint, points[k] as TracePoint);
  }
  const total = along.at(-1) as number;
  const stretches: TracePoint[][] = [];
  let isOpen = false;
  let kept = 0;
  for (const [k, point] of points.entries()) {
    const isFar =
      (along[k] as number) > trimM &&
      total - (along[k] as number) > trimM &&
      off(point, first) > trimM &&
      off(point, last) > trimM;
    if (isFar && !isOpen) stretches.push([]);
    if (isFar) {
      stretches.at(-1)?.push(point);
      kept++;
    }
    isOpen = isFar;
  }
  return { stretches, given: points.length, removed: points.length - kept };
}
