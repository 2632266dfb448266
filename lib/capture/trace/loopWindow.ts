/**
 * Where in a longer recording a known loop was driven: from the last time near the loop's start before its turnaround
 * to the first time near it after. A recording of a whole day gives one window for each run.
 */
import { distanceBetweenM } from './geodesic';
import type { KnownLoop } from './loopMatch';
import type { Place } from './route';
import type { TracePoint } from './tracePoint';

export interface TimeWindow {
  readonly startMs: number;
  readonly endMs: number;
}

const defaultReachM = 1000;

/** @param reachM how near a place counts as having been there */
export function windowsOnLoop(
  points: readonly TracePoint[],
  loop: Pick<KnownLoop, 'start' | 'turnaround'>,
  reachM: number = defaultReachM,
): TimeWindow[] {
  const timed = points
    .flatMap((point) => (point.timeMs === null ? [] : [{ ...point, timeMs: point.timeMs }]))
    .sort((a, b) => a.timeMs - b.timeMs);
  const starts = visits(timed, loop.start, reachM);
  const windows: TimeWindow[] = [];
  for (const turn of visits(timed, loop.turnaround, reachM)) {
    const startMs = starts.filter((timeMs) => timeMs < turn).at(-1);
    const endMs = starts.find((timeMs) => timeMs > turn);
    if (startMs === undefined || endMs === undefined) continue;
    // Two visits to the turnaround in one run (a wrong exit) are one window.
    if (windows.at(-1)?.startMs !== startMs) windows.push({ startMs, endMs });
  }
  return windows;
}

/** For each unbroken stay within reach of a place, the instant at which it was nearest. */
function visits(
  points: readonly (TracePoint & { timeMs: number })[],
  place: Place,
  reachM: number,
): number[] {
  const found: number[] = [];
  let nearestM = Number.POSITIVE_INFINITY;
  let nearestMs = 0;
  const close = () => {
    if (nearestM <= reachM) found.push(nearestMs);
    nearestM = Number.POSITIVE_INFINITY;
  };
  for (const { latitudeDeg, longitudeDeg, timeMs } of points) {
    const off = distanceBetweenM(latitudeDeg, longitudeDeg, place.latitudeDeg, place.longitudeDeg);
    if (off > reachM) close();
    else if (off < nearestM) {
      nearestM = off;
      nearestMs = timeMs;
    }
  }
  close();
  return found;
}
