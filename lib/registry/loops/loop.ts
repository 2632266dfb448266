import { type DrawnLeg, outlineLegs, sectorWidth } from '@/lib/run/loopOutline';
import type { BearingShare, ElevationPoint } from '@/lib/run/loopShape';
import { isSlug } from '@/lib/run/slug';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { type LoopRepeatability, loopRepeatability } from '@/lib/stats/loopRepeatability';
import { type WindRose, windRose } from '@/lib/stats/windRose';
import { type LoopCounts, loopCounts, repeatedOnLoop, windsOnLoop } from '@/lib/store/loopPages';
import { loopBySlug } from '@/lib/store/loops';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';
import { type PublicRunPage, readPublicRunPage } from '../runs/publicRuns';

export interface LoopView {
  slug: string;
  name: string;
  region: string;
  description: string;
  turnaround: string;
  world: WorldKey;
  /** Why it is in no list; null where it is. */
  hiddenReason: string | null;
  owner: { displayName: string; slug: string };
  lengthM: number;
  lengthUncertaintyM: number;
  lengthSource: string;
  altitudeM: number;
  netClimbM: number;
  grossClimbM: number | null;
  closureDistanceM: number;
  closureHeightM: number;
  sharedRouteShare: number;
  offCruiseShare: number;
  postedLimitMps: number;
  legs: { direction: string; lengthM: number; netClimbM: number; mainBearingDeg: number | null }[];
  outline: DrawnLeg[];
  elevation: ElevationPoint[];
  /** Where along the way the return leg begins. */
  turnaroundAtM: number;
  bearings: BearingShare[];
  bearingWidthDeg: number;
  counts: LoopCounts;
  classes: { label: string; runs: number }[];
  wind: WindRose;
  repeatability: LoopRepeatability | null;
  runs: PublicRunPage;
}

/** A loop: its route, its heights, its direction to the wind, and what was driven on it. */
export async function readLoop(
  registry: Registry,
  slug: string,
  from?: string,
): Promise<LoopView | undefined> {
  if (!isSlug(slug)) return undefined;
  const stored = await loopBySlug(registry.db, slug);
  if (stored === null) return undefined;
  const { id, outline, elevationProfile, legs, ...loop } = stored;
  const world = worldKey(loop.world);
  const shown = { world, methodVersion: await shownLabel(registry.db, world) };
  const [runs, { counts, classes }, winds, repeated] = await Promise.all([
    readPublicRunPage(registry, { loopId: id, world }, from),
    loopCounts(registry.db, id, shown),
    windsOnLoop(registry.db, id, shown),
    repeatedOnLoop(registry.db, id, shown),
  ]);
  const outbound = legs.find((leg) => leg.direction === 'outbound');
  const legsLengthM = legs.reduce((sum, leg) => sum + leg.lengthM, 0);
  const outboundShare = outbound && legsLengthM > 0 ? outbound.lengthM / legsLengthM : 0.5;
  return {
    ...loop,
    world,
    legs: legs.map((leg) => ({
      direction: leg.direction,
      lengthM: leg.lengthM,
      netClimbM: leg.netClimbM,
      mainBearingDeg: meanBearing(leg.bearings),
    })),
    outline: outlineLegs(outline, outboundShare),
    elevation: elevationProfile,
    turnaroundAtM: outboundShare * loop.lengthM,
    bearingWidthDeg: sectorWidth(loop.bearings),
    counts,
    classes,
    wind: windRose(winds),
    repeatability: loopRepeatability(repeated),
    runs,
  };
}

/** Direction of the sum of the way's pieces, degrees clockwise from north; null where none is known. */
function meanBearing(bearings: readonly BearingShare[]): number | null {
  if (bearings.length === 0) return null;
  const rad = Math.PI / 180;
  const east = bearings.reduce((sum, { bearingDeg, share }) => sum + share * Math.sin(bearingDeg * rad), 0);
  const north = bearings.reduce((sum, { bearingDeg, share }) => sum + share * Math.cos(bearingDeg * rad), 0);
  return (Math.atan2(east, north) / rad + 360) % 360;
}
