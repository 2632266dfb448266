import { distanceBetweenM } from './geodesic';
import type { KnownLoop } from './loopMatch';
import type { TracePoint } from './tracePoint';

/** Loops whose recording is worked out in full to see whether it is one of them. */
const MOST_TRIED = 4;
/** As near as a recording has to begin and turn (loopMatch.ts), and a kilometre more for the steps below. */
const REACH_M = 2000;
/** A point in so many is looked at: at 30 m a second and a point a second, one each kilometre. */
const EVERY = 30;

/** Of known loops those at whose start and turnaround a recording has been, the nearest first. */
export function loopsNear<Loop extends KnownLoop>(
  points: readonly TracePoint[],
  loops: readonly Loop[],
): Loop[] {
  const looked = points.filter((_, at) => at % EVERY === 0 || at === points.length - 1);
  const nearest = ({ latitudeDeg, longitudeDeg }: KnownLoop['start']): number =>
    looked.reduce(
      (least, point) =>
        Math.min(least, distanceBetweenM(latitudeDeg, longitudeDeg, point.latitudeDeg, point.longitudeDeg)),
      Number.POSITIVE_INFINITY,
    );
  return loops
    .map((loop) => ({ loop, offM: Math.max(nearest(loop.start), nearest(loop.turnaround)) }))
    .filter(({ offM }) => offM <= REACH_M)
    .sort((a, b) => a.offM - b.offM)
    .slice(0, MOST_TRIED)
    .map(({ loop }) => loop);
}
