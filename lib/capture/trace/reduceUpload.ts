import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { cleanTrace } from './clean';
import type { TraceColumns } from './csvTrace';
import type { KnownLoop } from './loopMatch';
import { type TimeWindow, windowsOnLoop } from './loopWindow';
import { type PublicTrack, publicTrackOf } from './publicTrack';
import { reduceTrace } from './reduceTrace';
import type { IrreducibleTrace, ReducedTrace } from './reduction';
import type { Place } from './route';
import { windowsBetweenStays } from './staysWindow';
import type { StoredTrace, TracePlaces } from './storedTrace';
import type { TraceFile, TracePoint } from './tracePoint';

export interface UploadOptions {
  columns: TraceColumns | null;
  /** `whole` for all of the recording; without a choice the part nearest to the start is taken, if there are parts. */
  window: TimeWindow | 'whole' | undefined;
  /** When the run began by its form, where that says so. */
  startedAtMs: number | undefined;
  trimM: number;
  cruiseClassKey: string | undefined;
  /** The run's loop as earlier recordings saw it. */
  knownLoop: KnownLoop | undefined;
}

export type ReducedUpload =
  | { ok: true; stored: StoredTrace; publicTrack: PublicTrack; pointsUsed: number; reduced: ReducedTrace }
  | { ok: false; refusal: IrreducibleTrace };

const OUTLINE_PLACES = 400;

/** From the points of a file to everything that is kept of them. Pure: the same points give the same. */
export function reduceUpload(file: TraceFile, options: UploadOptions): ReducedUpload {
  const windows = windowsIn(file.points, options.knownLoop);
  const window = options.window === 'whole' ? undefined : (options.window ?? nearest(windows, options));
  const cruiseClassMps = cruiseClassByKey(options.cruiseClassKey ?? '')?.speedMps;
  const reduced = reduceTrace(file.points, {
    ...(cruiseClassMps === undefined ? {} : { cruiseClassMps }),
    ...(options.knownLoop === undefined ? {} : { loops: [options.knownLoop] }),
    ...(window === undefined ? {} : { window }),
  });
  if (!reduced.ok) return { ok: false, refusal: reduced };
  const left = new Set(reduced.excluded.map(({ index }) => index));
  const used = file.points.filter((_, index) => !left.has(index));
  const { excluded: _excluded, matches, proposal: _proposal, ...reduction } = reduced;
  return {
    ok: true,
    reduced,
    pointsUsed: reduced.counts.used,
    publicTrack: publicTrackOf(used, reduced.profile, reduced.startMs, options.trimM),
    stored: {
      columns: options.columns,
      window: window ?? null,
      windows,
      trimM: options.trimM,
      cruiseClassKey: options.cruiseClassKey ?? null,
      places: placesOf(used, reduced),
      loopMatch: matches[0] ?? null,
      refusedPoints: countByReason(file),
      fileNotes: [...file.notes],
      reduction,
    },
  };
}

/** By the loop's own places where they are known, otherwise from stay to stay. One part that is all of it is none. */
function windowsIn(points: readonly TracePoint[], loop: KnownLoop | undefined): TimeWindow[] {
  const { indices } = cleanTrace(points);
  const used = Array.from(indices, (index) => points[index] as TracePoint);
  const onLoop = loop === undefined ? [] : windowsOnLoop(used, loop);
  const windows = onLoop.length > 0 ? onLoop : windowsBetweenStays(used);
  const [only] = windows;
  const [first, last] = [used[0]?.timeMs ?? 0, used.at(-1)?.timeMs ?? 0];
  const isAll = windows.length === 1 && only !== undefined && shareOf(only, first, last) > 0.98;
  return isAll ? [] : windows;
}

function shareOf({ startMs, endMs }: TimeWindow, firstMs: number, lastMs: number): number {
  return (endMs - startMs) / Math.max(1, lastMs - firstMs);
}

function nearest(windows: readonly TimeWindow[], { startedAtMs }: UploadOptions): TimeWindow | undefined {
  if (startedAtMs === undefined) return windows[0];
  return windows.toSorted((a, b) => Math.abs(a.startMs - startedAtMs) - Math.abs(b.startMs - startedAtMs))[0];
}

function placesOf(used: readonly TracePoint[], reduced: ReducedTrace): TracePlaces {
  const place = ({ latitudeDeg, longitudeDeg }: Place): Place => ({ latitudeDeg, longitudeDeg });
  const turnMs = reduced.startMs + 1000 * (reduced.turnaround?.elapsedS ?? reduced.durationS);
  const outbound = used.filter(({ timeMs }) => timeMs !== null && timeMs <= turnMs);
  const every = Math.max(1, Math.ceil(outbound.length / OUTLINE_PLACES));
  return {
    start: place(used[0] as TracePoint),
    finish: place(used.at(-1) as TracePoint),
    turnaround: reduced.turnaround === null ? null : place(reduced.turnaround),
    outline: outbound.filter((_, at) => at % every === 0 || at === outbound.length - 1).map(place),
  };
}

function countByReason({ refusedPoints }: TraceFile): StoredTrace['refusedPoints'] {
  const counts = new Map<string, number>();
  for (const { reason } of refusedPoints) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts].map(([reason, count]) => ({ reason, count }));
}
