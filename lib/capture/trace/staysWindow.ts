/**
 * Runs in a longer recording, where the loop's own places are not known yet: from one stay at a place to the next stay
 * at the same place, with a drive between. A halt at the turnaround is a stay elsewhere and ends nothing. Where a
 * recording begins and ends counts as a stay. All figures are ours.
 */
import { distanceBetweenM } from './geodesic';
import type { TimeWindow } from './loopWindow';
import type { TracePoint } from './tracePoint';

const stayRadiusM = 100;
const restRadiusM = 15;
const minStayMs = 120_000;
const samePlaceM = 1000;
/** A loop leads at least this far away. */
const minAwayM = 2000;

interface Timed extends TracePoint {
  readonly timeMs: number;
}

interface Stay {
  readonly place: Timed;
  readonly fromMs: number;
  readonly toMs: number;
}

export function windowsBetweenStays(points: readonly TracePoint[]): TimeWindow[] {
  const timed = points
    .flatMap((point) => (point.timeMs === null ? [] : [{ ...point, timeMs: point.timeMs }]))
    .sort((a, b) => a.timeMs - b.timeMs);
  const stays = staysIn(timed);
  const windows: TimeWindow[] = [];
  for (let first = 0; first < stays.length - 1; ) {
    const start = stays[first] as Stay;
    const end = stays.findIndex(
      (stay, at) =>
        at > first && offM(stay.place, start.place) <= samePlaceM && wasAway(timed, start, stay.fromMs),
    );
    if (end < 0) {
      first++;
      continue;
    }
    windows.push({ startMs: start.toMs, endMs: (stays[end] as Stay).fromMs });
    first = end;
  }
  return windows;
}

function wasAway(points: readonly Timed[], start: Stay, untilMs: number): boolean {
  return points.some(
    (point) => point.timeMs > start.toMs && point.timeMs < untilMs && offM(point, start.place) > minAwayM,
  );
}

function staysIn(points: readonly Timed[]): Stay[] {
  const stays: Stay[] = [];
  const last = points.length - 1;
  for (let from = 0; from <= last; ) {
    const centre = points[from] as Timed;
    let to = from;
    while (to < last && offM(points[to + 1] as Timed, centre) <= stayRadiusM) to++;
    const isLong = (points[to] as Timed).timeMs - centre.timeMs >= minStayMs;
    if (isLong) stays.push(restIn(points, from, to, (from + to) >> 1));
    else if (from === 0) stays.push(restIn(points, from, to, from));
    else if (to === last) stays.push(restIn(points, from, to, last));
    if (to === last) break;
    // A car on the move passes a hundred metres in seconds: steps of one point find where it came to rest.
    from = isLong ? to + 1 : from + 1;
  }
  return stays;
}

/** From first to last being within a few metres of where it rested: the roll to a stop belongs to the drive. */
function restIn(points: readonly Timed[], from: number, to: number, at: number): Stay {
  const place = points[at] as Timed;
  const isThere = (point: Timed) => offM(point, place) <= restRadiusM;
  const inside = points.slice(from, to + 1).filter(isThere);
  return {
    place,
    fromMs: (inside[0] ?? place).timeMs,
    toMs: (inside.at(-1) ?? place).timeMs,
  };
}

function offM(a: TracePoint, b: TracePoint): number {
  return distanceBetweenM(a.latitudeDeg, a.longitudeDeg, b.latitudeDeg, b.longitudeDeg);
}
