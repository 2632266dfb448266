import type { PublicTrack } from '@/lib/capture/trace/publicTrack';
import type { Bearings } from '@/lib/capture/trace/route';
import type { StoredTrace } from '@/lib/capture/trace/storedTrace';
import type { BearingShare, ElevationPoint, OutlinePoint } from '@/lib/run/loopShape';
import { fromCanonical } from '@/lib/units/unit';
import { bearingsOfSectors, TRACE_LENGTH_RELATIVE_U } from './runTrace';

/** A loop as one recording of it sees it: texts for the form, and the shape that goes with them. */
export interface LoopProposal {
  /** By name of the form's field. */
  form: Record<string, string>;
  lengthM: number;
  lengthUncertaintyM: number;
  turnaroundM: number;
  bearings: BearingShare[];
  legs: { direction: 'outbound' | 'return'; lengthM: number; netClimbM: number; bearings: BearingShare[] }[];
  /** Without its ends, in metres from its first shown place. */
  outline: OutlinePoint[];
  elevationProfile: ElevationPoint[];
  trimM: number;
  /** Distance-weighted means of cos θ, sin θ, cos 2θ, sin 2θ: what a steady wind does on the loop follows from them. */
  means: Pick<Bearings, 'meanCos' | 'meanSin' | 'meanCos2' | 'meanSin2'>;
  offCruiseShare: number;
  sharedRouteShare: number;
  notes: readonly string[];
}

/** Ends nearer than this are one place, which has one height whatever a receiver says. Own judgement. */
const ONE_PLACE_M = 50;

/** Null where the recording has no turnaround. */
export function loopProposal({ reduction }: StoredTrace, track: PublicTrack): LoopProposal | null {
  const { legs, climb, cruise, distanceM, closureDistanceM } = reduction;
  if (legs === null || reduction.sharedRouteShare === null) return null;
  const [outbound] = legs;
  const isOnePlace = closureDistanceM <= ONE_PLACE_M;
  const netClimbM = isOnePlace ? 0 : (climb?.netM ?? 0);
  const heights = reduction.profile.heightM.filter((height) => height !== null);
  const points = track.stretches.flat();
  const lengthUncertaintyM = TRACE_LENGTH_RELATIVE_U * distanceM;
  const share = (value: number) => (100 * value).toFixed(1);
  return {
    form: {
      lengthM: fromCanonical(distanceM, 'km').toFixed(3),
      lengthMUnit: 'km',
      lengthUncertaintyM: lengthUncertaintyM.toFixed(0),
      lengthUncertaintyMUnit: 'm',
      lengthSource: 'one satellite recording',
      ...(heights.length > 0
        ? {
            altitudeM: (heights.reduce((sum, height) => sum + height, 0) / heights.length).toFixed(0),
            altitudeMUnit: 'm',
          }
        : {}),
      netClimbM: netClimbM.toFixed(0),
      netClimbMUnit: 'm',
      ...(climb === null ? {} : { grossClimbM: climb.upM.toFixed(0), grossClimbMUnit: 'm' }),
      closureDistanceM: closureDistanceM.toFixed(0),
      closureDistanceMUnit: 'm',
      closureHeightM: Math.abs(netClimbM).toFixed(0),
      closureHeightMUnit: 'm',
      sharedRouteShare: share(reduction.sharedRouteShare),
      offCruiseShare: share(cruise?.offCruiseShare ?? 0),
    },
    lengthM: distanceM,
    lengthUncertaintyM,
    turnaroundM: outbound.distanceM,
    bearings: bearingsOfSectors(reduction.bearings.sectorShares),
    legs: legs.map((leg) => ({
      direction: leg.direction,
      lengthM: leg.distanceM,
      netClimbM: leg.climb?.netM ?? 0,
      bearings: bearingsOfSectors(leg.bearings.sectorShares),
    })),
    outline: points.map(({ eastM, northM }) => ({ x: eastM, y: northM })),
    elevationProfile: points.flatMap(({ distanceM: at, heightM }) =>
      heightM === null ? [] : [{ distanceM: at, heightM }],
    ),
    trimM: track.trimM,
    means: reduction.bearings,
    offCruiseShare: cruise?.offCruiseShare ?? 0,
    sharedRouteShare: reduction.sharedRouteShare,
    notes: reduction.notes,
  };
}
