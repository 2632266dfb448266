import type { ReducedTrace } from '@/lib/capture/trace/reduction';
import { lengthScale } from './lengthScale';
import type { RecordingSnapshot } from './snapshot';

type RecordedFigures = Pick<
  ReducedTrace,
  | 'distanceM'
  | 'gapDistanceM'
  | 'meanSquareSpeedM2S2'
  | 'slowDowns'
  | 'cruise'
  | 'climb'
  | 'bearings'
  | 'closureDistanceM'
> & { readonly durationS?: number };

/** Of a reduced recording the figures that a run's numbers can rest on, and no place. */
export function recordingSnapshot(
  traceId: string,
  reduction: RecordedFigures,
  loop: { lengthM: number; lengthUncertaintyM: number },
): RecordingSnapshot {
  const { cruise } = reduction;
  return {
    traceId,
    distanceM: reduction.distanceM,
    lengthScale: lengthScale(reduction, loop),
    gapDistanceM: reduction.gapDistanceM,
    meanSquareSpeedM2S2: reduction.meanSquareSpeedM2S2,
    slowDowns: reduction.slowDowns.map(({ fromMps, toMps, fallM = null }) => ({ fromMps, toMps, fallM })),
    durationS: reduction.durationS ?? null,
    cruise: cruise && {
      meanSpeedMps: cruise.meanSpeedMps,
      spreadMps: cruise.spreadMps,
      durationS: cruise.durationS,
      withinBandShare: cruise.withinBandShare,
      offCruiseShare: cruise.offCruiseShare,
    },
    sectorShares: [...reduction.bearings.sectorShares],
    closureDistanceM: reduction.closureDistanceM,
    netClimbM: reduction.climb?.netM ?? null,
  };
}
