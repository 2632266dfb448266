import { may } from '@/lib/access/permissions';
import type { ExclusionReason } from '@/lib/capture/trace/clean';
import type { PublicPoint } from '@/lib/capture/trace/publicTrack';
import type { TraceProfile } from '@/lib/capture/trace/reduction';
import { classBandMps } from '@/lib/capture/trace/speed';
import type { StoredTrace } from '@/lib/capture/trace/storedTrace';
import type { TraceUse } from '@/lib/reduction/withTrace';
import type { Actor } from '@/lib/run/roles';
import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import { worldKey } from '@/lib/run/world';
import { traceOfRevision } from '@/lib/store/traces';
import type { Registry } from '../registry';

export interface ShownStretch {
  fromM: number;
  toM: number;
}

/** What the page of a run shows of its recording: no place, no time of day, and the track without its ends. */
export interface RunTraceView {
  format: string;
  pointsRead: number;
  pointsUsed: number;
  leftOut: { reason: string; count: number }[];
  speedSource: StoredTrace['reduction']['speedSource'];
  gaps: { count: number; distanceM: number };
  distanceM: number;
  durationS: number;
  meanSpeedMps: number;
  meanSquareSpeedM2S2: number;
  cruise: StoredTrace['reduction']['cruise'];
  cruiseStretches: (ShownStretch & { durationS: number })[];
  offCruise: ShownStretch[];
  stops: { atM: number; durationS: number }[];
  slowDowns: { atM: number; fromMps: number; toMps: number }[];
  legs: {
    direction: string;
    distanceM: number;
    durationS: number;
    meanSpeedMps: number;
    netClimbM: number | null;
  }[];
  turnaroundM: number | null;
  band: { label: string; lowMps: number; highMps: number } | null;
  trimM: number;
  hiddenPoints: number;
  points: PublicPoint[];
  mapLegs: { key: 'outbound' | 'return'; points: { eastM: number; northM: number }[] }[];
  notes: readonly string[];
  use: TraceUse | null;
  /** For its tester and reviewers: the run under whose address the file as sent can be fetched. */
  fileOfRunId: string | null;
}

const LEFT_OUT: readonly (readonly [ExclusionReason, string])[] = [
  ['noTime', 'no time'],
  ['outsideWindow', 'outside the part that is the run'],
  ['duplicate', 'same time as the point before'],
  ['clockStep', 'the clock ran backwards'],
  ['jump', 'no car could have been there'],
];

/**
 * Undefined for a run without a recording, and for a reader who may not see this revision; a word where there is one but
 * what was kept of it cannot be read.
 */
export async function readRunTrace(
  registry: Registry,
  actor: Actor | undefined,
  run: { runId: string; revisionNumber: number },
): Promise<RunTraceView | 'unreadable' | undefined> {
  const revision = await traceOfRevision(registry.db, run.runId, run.revisionNumber);
  if (!revision?.trace) return undefined;
  const { status, testerId, world, approvedRevision, cruiseClass } = revision.run;
  const isInside = may(actor, 'readPrivateRun', testerId, worldKey(world));
  const isPublished = PUBLIC_RUN_STATUSES.includes(status) && approvedRevision === revision.number;
  if (!isInside && !isPublished) return undefined;
  const { trace } = revision;
  if (trace.contents === null) return 'unreadable';
  const { stored, track } = trace.contents;
  const { reduction } = stored;
  const cruiseStretches = (reduction.cruise?.segments ?? []).map(({ startS, endS }) => ({
    fromM: distanceAt(reduction.profile, startS),
    toM: distanceAt(reduction.profile, endS),
    durationS: endS - startS,
  }));
  const turnaroundM = reduction.turnaround?.distanceM ?? null;
  const points = track.stretches.flat();
  return {
    format: trace.format,
    pointsRead: trace.pointsRead,
    pointsUsed: trace.pointsUsed,
    leftOut: leftOutOf(stored),
    speedSource: reduction.speedSource,
    gaps: { count: reduction.gaps.length, distanceM: reduction.gapDistanceM },
    distanceM: reduction.distanceM,
    durationS: reduction.durationS,
    meanSpeedMps: reduction.meanSpeedMps,
    meanSquareSpeedM2S2: reduction.meanSquareSpeedM2S2,
    cruise: reduction.cruise,
    cruiseStretches,
    offCruise: between(cruiseStretches, reduction.distanceM),
    stops: reduction.stops.map(({ distanceM, durationS }) => ({ atM: distanceM, durationS })),
    slowDowns: reduction.slowDowns.map(({ distanceM, fromMps, toMps }) => ({
      atM: distanceM,
      fromMps,
      toMps,
    })),
    legs: (reduction.legs ?? []).map(({ climb, direction, distanceM, durationS, meanSpeedMps }) => ({
      direction,
      distanceM,
      durationS,
      meanSpeedMps,
      netClimbM: climb?.netM ?? null,
    })),
    turnaroundM,
    band: cruiseClass && {
      label: cruiseClass.label,
      lowMps: cruiseClass.speedMps - classBandMps,
      highMps: cruiseClass.speedMps + classBandMps,
    },
    trimM: track.trimM,
    hiddenPoints: track.removed,
    points,
    mapLegs: mapLegsOf(points, turnaroundM),
    notes: [...stored.fileNotes, ...reduction.notes],
    use: revision.use,
    fileOfRunId: isInside ? run.runId : null,
  };
}

function leftOutOf({ reduction, refusedPoints }: StoredTrace): RunTraceView['leftOut'] {
  const excluded = LEFT_OUT.map(([key, reason]) => ({ reason, count: reduction.counts.byReason[key] }));
  return [...refusedPoints, ...excluded].filter(({ count }) => count > 0);
}

/** Straight between the profile's nodes. */
function distanceAt({ elapsedS, distanceM }: TraceProfile, wantedS: number): number {
  const after = elapsedS.findIndex((t) => t >= wantedS);
  if (after <= 0) return after < 0 ? (distanceM.at(-1) ?? 0) : (distanceM[0] ?? 0);
  const [t0, t1] = [elapsedS[after - 1] as number, elapsedS[after] as number];
  const [d0, d1] = [distanceM[after - 1] as number, distanceM[after] as number];
  return d0 + ((d1 - d0) * (wantedS - t0)) / (t1 - t0);
}

function between(stretches: readonly ShownStretch[], totalM: number): ShownStretch[] {
  const edges = [0, ...stretches.flatMap(({ fromM, toM }) => [fromM, toM]), totalM];
  const gaps: ShownStretch[] = [];
  for (let k = 0; k + 1 < edges.length; k += 2) {
    const [fromM, toM] = [edges[k] as number, edges[k + 1] as number];
    if (toM > fromM) gaps.push({ fromM, toM });
  }
  return gaps;
}

function mapLegsOf(points: readonly PublicPoint[], turnaroundM: number | null): RunTraceView['mapLegs'] {
  const place = ({ eastM, northM }: PublicPoint) => ({ eastM, northM });
  const turn = turnaroundM ?? Number.POSITIVE_INFINITY;
  const out = points.filter(({ distanceM }) => distanceM <= turn).map(place);
  const back = points.filter(({ distanceM }) => distanceM > turn).map(place);
  return [
    ...(out.length > 1 ? [{ key: 'outbound' as const, points: out }] : []),
    ...(back.length > 1 ? [{ key: 'return' as const, points: back }] : []),
  ];
}
