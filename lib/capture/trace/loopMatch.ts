/** Whether a driven route is a known loop, and what a new loop made from it would be. */
import { distanceBetweenM } from './geodesic';
import { simplify } from './outline';
import { type Place, type Plane, placeAt, planeAt, type Route, routeOf, shareNear } from './route';
import type { Turnaround } from './turnaround';

export interface KnownLoop {
  readonly id: string;
  readonly start: Place;
  readonly turnaround: Place;
  readonly lengthM: number;
  /** The way from start to turnaround; the way back may be left out. At least two places. */
  readonly outline: readonly Place[];
}

export interface MatchOptions {
  /** How far beside the outline the road may be: the other carriageway, the outline's own simplification. */
  readonly corridorM: number;
  /** How far from the loop's start the trace may begin and end, and from its turnaround turn. */
  readonly endsM: number;
  /** Share of the outline that must have been driven, and of the trace that must lie on it. */
  readonly minShare: number;
}

export const matchOptions: MatchOptions = { corridorM: 150, endsM: 1000, minShare: 0.95 };

export interface LoopMatch {
  readonly loopId: string;
  readonly isMatch: boolean;
  readonly startOffM: number;
  readonly endOffM: number;
  /** Null where the trace shows no turnaround. */
  readonly turnaroundOffM: number | null;
  readonly shareOfLoopDriven: number;
  readonly shareOfTraceOnLoop: number;
  /** Trace length over loop length. */
  readonly lengthRatio: number;
  /** Whole sentences: what keeps it from being a match. */
  readonly reasons: readonly string[];
}

export interface LoopProposal {
  readonly start: Place;
  readonly turnaround: Place;
  readonly lengthM: number;
  readonly outboundLengthM: number;
  readonly closureDistanceM: number;
  readonly sharedRouteShare: number;
  /** The way out, simplified to within 15 m. */
  readonly outline: readonly Place[];
}

const outlineToleranceM = 15;

/** Best first: matches before the rest, then by the share of the loop driven. */
export function matchLoops(
  route: Route,
  turnaround: Turnaround | null,
  loops: readonly KnownLoop[],
  options: MatchOptions = matchOptions,
): LoopMatch[] {
  const plane = planeAt(placeAt(route, 0));
  return loops
    .map((loop) => matchLoop(route, plane, turnaround, loop, options))
    .sort((a, b) => Number(b.isMatch) - Number(a.isMatch) || b.shareOfLoopDriven - a.shareOfLoopDriven);
}

export function proposeLoop(route: Route, turnaround: Turnaround): LoopProposal {
  const last = route.eastM.length - 1;
  return {
    start: placeAt(route, 0),
    turnaround: placeAt(route, turnaround.node),
    lengthM: last * route.spacingM,
    outboundLengthM: turnaround.distanceM,
    closureDistanceM: offM(placeAt(route, 0), placeAt(route, last)),
    sharedRouteShare: turnaround.sharedRouteShare,
    outline: simplify(route, 0, turnaround.node, outlineToleranceM),
  };
}

function matchLoop(
  route: Route,
  plane: Plane,
  turnaround: Turnaround | null,
  loop: KnownLoop,
  options: MatchOptions,
): LoopMatch {
  const last = route.eastM.length - 1;
  const outline = outlineRoute(loop.outline, plane);
  const match = {
    loopId: loop.id,
    startOffM: offM(placeAt(route, 0), loop.start),
    endOffM: offM(placeAt(route, last), loop.start),
    turnaroundOffM: turnaround === null ? null : offM(turnaround, loop.turnaround),
    shareOfLoopDriven: outline === null ? 0 : shareNear(outline, route, options.corridorM),
    shareOfTraceOnLoop: outline === null ? 0 : shareNear(route, outline, options.corridorM),
    lengthRatio: (last * route.spacingM) / loop.lengthM,
  };
  const reasons: string[] = [];
  const far = (metres: number, what: string) => {
    if (metres > options.endsM) reasons.push(`The trace ${what} ${kilometres(metres)} from the loop's.`);
  };
  far(match.startOffM, 'has its start');
  far(match.endOffM, 'has its finish');
  if (match.turnaroundOffM === null) reasons.push('The trace shows no turnaround.');
  else far(match.turnaroundOffM, 'has its turnaround');
  if (match.shareOfLoopDriven < options.minShare) {
    reasons.push(`It covers ${percent(match.shareOfLoopDriven)} of the loop.`);
  }
  if (match.shareOfTraceOnLoop < options.minShare) {
    reasons.push(`${percent(1 - match.shareOfTraceOnLoop)} of it lies off the loop.`);
  }
  return { ...match, isMatch: reasons.length === 0, reasons };
}

/** The outline filled up to the corridor's own spacing, so that long straight pieces have places too. */
function outlineRoute(outline: readonly Place[], plane: Plane): Route | null {
  if (outline.length < 2) return null;
  const latitudeDeg = Float64Array.from(outline, (place) => place.latitudeDeg);
  const longitudeDeg = Float64Array.from(outline, (place) => place.longitudeDeg);
  const distanceM = new Float64Array(outline.length);
  for (let k = 1; k < outline.length; k++) {
    distanceM[k] = (distanceM[k - 1] as number) + offM(outline[k - 1] as Place, outline[k] as Place);
  }
  return routeOf(latitudeDeg, longitudeDeg, distanceM, plane);
}

function offM(a: Place, b: Place): number {
  return distanceBetweenM(a.latitudeDeg, a.longitudeDeg, b.latitudeDeg, b.longitudeDeg);
}

function kilometres(metres: number): string {
  return `${(metres / 1000).toFixed(1)} km`;
}

function percent(share: number): string {
  return `${(100 * share).toFixed(0)} %`;
}
