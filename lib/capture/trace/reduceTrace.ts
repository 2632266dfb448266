import { type CleanOptions, type CleanTrace, cleanOptions, cleanTrace, type ExclusionReason } from './clean';
import { climbOf, type HeightProfile, heightProfileOf } from './elevation';
import { distanceBetweenM } from './geodesic';
import { type KnownLoop, type MatchOptions, matchLoops, matchOptions, proposeLoop } from './loopMatch';
import type { TimeWindow } from './loopWindow';
import { pathOf, type TimeGrid, type TracePath } from './path';
import type { Leg, TraceCounts, TraceProfile, TraceReduction } from './reduction';
import { resample, withoutMissing } from './resample';
import { bearingsOf, planeAt, type Route, routeOf } from './route';
import { cruiseOf, momentsOf, slowDownsOf, squaredSpeedDropM2S2, stopsOf } from './speed';
import type { TracePoint } from './tracePoint';
import { findTurnaround, type Turnaround } from './turnaround';

export interface ReduceOptions {
  /** The speed of the run's cruise class. */
  readonly cruiseClassMps?: number;
  readonly loops?: readonly KnownLoop[];
  readonly match?: MatchOptions;
  readonly clean?: CleanOptions;
  /** The part of the recording that is the run; all of it otherwise. */
  readonly window?: TimeWindow;
  /** Points in the profile for drawing. */
  readonly profilePoints?: number;
}

const minPoints = 20;
const minDistanceM = 1000;
const maxDurationS = 24 * 3600;
const defaultProfilePoints = 600;

/** The whole way from recorded points to the figures of a run. */
export function reduceTrace(points: readonly TracePoint[], options: ReduceOptions = {}): TraceReduction {
  const clean = options.clean ?? cleanOptions;
  const trace = cleanTrace(points, clean, options.window);
  const counts = countsOf(trace);
  const refuse = (
    reason: 'noTimes' | 'tooFewPoints' | 'tooShort' | 'tooLong',
    message: string,
  ): TraceReduction => ({
    ok: false,
    reason,
    message,
    counts,
  });
  if (counts.given > 0 && counts.byReason.noTime === counts.given) {
    return refuse('noTimes', 'No point has a time, so no speed can be worked out.');
  }
  if (counts.used < minPoints) {
    return refuse(
      'tooFewPoints',
      `${counts.used} of ${counts.given} points can be used; ${minPoints} are needed.`,
    );
  }
  const path = pathOf(trace, clean.maxPauseS);
  if (path.durationS > maxDurationS) return refuse('tooLong', 'The trace spans more than a day.');
  if (path.totalM < minDistanceM) {
    return refuse(
      'tooShort',
      `The trace is ${path.totalM.toFixed(0)} m long; a run has at least ${minDistanceM} m.`,
    );
  }

  const { grid } = path;
  const plane = planeAt({
    latitudeDeg: trace.latitudeDeg[0] as number,
    longitudeDeg: trace.longitudeDeg[0] as number,
  });
  const route = routeOf(path.latitudeDeg, path.longitudeDeg, grid.distanceM, plane);
  const heights = heightProfileOf(path.distanceM, trace.elevationM);
  const turnaround = findTurnaround(route);
  const turnNode = turnaround === null ? null : nodeAtDistance(grid, turnaround.distanceM);
  const cruise = cruiseOf(grid, options.cruiseClassMps ?? null);
  const slowDowns = slowDownsOf(grid);
  const climb = heights === null ? null : climbOf(heights, 0, path.totalM);
  const matches = matchLoops(route, turnaround, options.loops ?? [], options.match ?? matchOptions);
  const gapDistanceM = path.gaps.reduce((sum, gap) => sum + gap.distanceM, 0);
  const last = trace.timeS.length - 1;

  return {
    ok: true,
    counts,
    excluded: trace.excluded,
    startMs: trace.startMs,
    endMs: trace.startMs + Math.round(1000 * path.durationS),
    distanceM: path.totalM,
    durationS: path.durationS,
    ...momentsOf(grid),
    speedSource: grid.speedSource,
    gaps: path.gaps,
    gapDistanceM,
    closureDistanceM: distanceBetweenM(
      trace.latitudeDeg[0] as number,
      trace.longitudeDeg[0] as number,
      trace.latitudeDeg[last] as number,
      trace.longitudeDeg[last] as number,
    ),
    closureHeightM: climb?.netM ?? null,
    turnaround:
      turnaround === null || turnNode === null
        ? null
        : {
            latitudeDeg: turnaround.latitudeDeg,
            longitudeDeg: turnaround.longitudeDeg,
            distanceM: turnaround.distanceM,
            elapsedS: turnNode * grid.stepS,
          },
    sharedRouteShare: turnaround?.sharedRouteShare ?? null,
    legs:
      turnaround === null || turnNode === null
        ? null
        : legsOf(grid, route, heights, turnaround, turnNode, path),
    cruise,
    stops: stopsOf(grid),
    slowDowns,
    squaredSpeedDropM2S2: squaredSpeedDropM2S2(slowDowns),
    climb,
    bearings: bearingsOf(route),
    energyWh: energyOf(trace, grid, path),
    matches,
    proposal: matches[0]?.isMatch || turnaround === null ? null : proposeLoop(route, turnaround),
    profile: profileOf(trace, grid, heights, options.profilePoints ?? defaultProfilePoints),
    notes: notesOf(counts, path, gapDistanceM, turnaround !== null, heights !== null, cruise !== null),
  };
}

function countsOf(trace: CleanTrace): TraceCounts {
  const byReason: Record<ExclusionReason, number> = {
    noTime: 0,
    outsideWindow: 0,
    duplicate: 0,
    clockStep: 0,
    jump: 0,
  };
  for (const { reason } of trace.excluded) byReason[reason]++;
  return {
    given: trace.given,
    used: trace.indices.length,
    excluded: trace.excluded.length,
    byReason,
    elevationSpikes: trace.elevationSpikes,
  };
}

function nodeAtDistance(grid: TimeGrid, metres: number): number {
  const last = grid.distanceM.length - 1;
  const node = grid.distanceM.findIndex((d) => d >= metres);
  // A leg has at least one step of time.
  return Math.min(last - 1, Math.max(1, node < 0 ? last - 1 : node));
}

function legsOf(
  grid: TimeGrid,
  route: Route,
  heights: HeightProfile | null,
  turnaround: Turnaround,
  turnNode: number,
  path: TracePath,
): [Leg, Leg] {
  const leg = (
    direction: Leg['direction'],
    nodes: [number, number],
    places: [number, number],
    metres: [number, number],
  ) => ({
    direction,
    distanceM: metres[1] - metres[0],
    durationS: (nodes[1] - nodes[0]) * grid.stepS,
    ...momentsOf(grid, ...nodes),
    climb: heights === null ? null : climbOf(heights, ...metres),
    bearings: bearingsOf(route, ...places),
  });
  const lastNode = grid.distanceM.length - 1;
  const lastPlace = route.eastM.length - 1;
  return [
    leg('outbound', [0, turnNode], [0, turnaround.node], [0, turnaround.distanceM]),
    leg('return', [turnNode, lastNode], [turnaround.node, lastPlace], [turnaround.distanceM, path.totalM]),
  ];
}

/** Trapezoids over the points' own times; power is not resampled for it. */
function energyOf(trace: CleanTrace, grid: TimeGrid, path: TracePath): number | null {
  const [timeS, powerW] = withoutMissing(trace.timeS, trace.powerW);
  if (timeS.length < 0.95 * trace.timeS.length || path.durationS < grid.stepS) return null;
  let joules = 0;
  for (let k = 1; k < timeS.length; k++) {
    const dt = (timeS[k] as number) - (timeS[k - 1] as number);
    joules += (((powerW[k] as number) + (powerW[k - 1] as number)) / 2) * dt;
  }
  return joules / 3600;
}

function profileOf(
  trace: CleanTrace,
  grid: TimeGrid,
  heights: HeightProfile | null,
  wanted: number,
): TraceProfile {
  const last = grid.distanceM.length - 1;
  const count = Math.min(last + 1, Math.max(2, wanted));
  const nodes = Array.from({ length: count }, (_, k) => Math.round((k * last) / (count - 1)));
  const [timeS, powerW] = withoutMissing(trace.timeS, trace.powerW);
  const power = timeS.length < 2 ? null : resample(timeS, powerW, last + 1, grid.stepS);
  return {
    elapsedS: nodes.map((k) => k * grid.stepS),
    distanceM: nodes.map((k) => grid.distanceM[k] as number),
    speedMps: nodes.map((k) => grid.speedMps[k] as number),
    heightM: nodes.map((k) => {
      if (heights === null) return null;
      const at = Math.round((grid.distanceM[k] as number) / heights.spacingM);
      return heights.heightM[Math.min(at, heights.heightM.length - 1)] as number;
    }),
    powerW: nodes.map((k) => (power === null ? null : (power[k] as number))),
  };
}

function notesOf(
  counts: TraceCounts,
  path: TracePath,
  gapDistanceM: number,
  hasTurnaround: boolean,
  hasHeights: boolean,
  hasCruise: boolean,
): string[] {
  const notes: string[] = [];
  const { noTime, duplicate, clockStep, jump } = counts.byReason;
  if (noTime > 0) notes.push(`Points left out for want of a time: ${noTime}.`);
  if (duplicate > 0) notes.push(`Points left out with the time of the point before: ${duplicate}.`);
  if (clockStep > 0) notes.push(`Points left out where the clock ran backwards: ${clockStep}.`);
  if (jump > 0) notes.push(`Points left out that no car could have reached: ${jump}.`);
  if (counts.elevationSpikes > 0) notes.push(`Heights left out as spikes: ${counts.elevationSpikes}.`);
  if (path.gaps.length > 0) {
    const share = ((100 * gapDistanceM) / path.totalM).toFixed(1);
    notes.push(`Gaps bridged by straight lines: ${path.gaps.length} (${share} % of the distance).`);
  }
  if (!hasTurnaround) notes.push('The way back does not follow the way out, so there are no legs.');
  if (!hasHeights) notes.push('Fewer than half of the points have a height, so there is no climb.');
  if (!hasCruise) notes.push('No steady cruise of half a minute or more was found.');
  return notes;
}
