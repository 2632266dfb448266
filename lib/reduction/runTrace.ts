import type { BearingShare } from '@/lib/run/loopShape';
import type { RecordingSnapshot } from './snapshot';

/**
 * What a run's own recording says of it, and whether it says enough to take the place of the loop's figures. As recorded,
 * but for speeds and falls, which are multiplied by `lengthScale` where there is one.
 */
export interface RunTrace
  extends Pick<
    RecordingSnapshot,
    | 'traceId'
    | 'distanceM'
    | 'lengthScale'
    | 'meanSquareSpeedM2S2'
    | 'slowDowns'
    | 'durationS'
    | 'cruise'
    | 'closureDistanceM'
    | 'netClimbM'
  > {
  /** GPS distance against the loop's length. */
  distanceCheck: { loopLengthM: number; uDifferenceM: number; agrees: boolean };
  /** Share of the distance bridged over gaps. */
  gapShare: number;
  /** Whole sentences: why it is only a check; empty where it is used. */
  reasonsNotUsed: string[];
  bearings: BearingShare[];
}

/** A length summed over satellite fixes, as a share of itself: common practice, no source. */
export const TRACE_LENGTH_RELATIVE_U = 0.003;
const COVERAGE = 2;
/** Farther from the loop's length than this, it is not (all of) this run. Own judgement. */
const MOST_LENGTH_DIFFERENCE = 0.03;
const MOST_GAP_SHARE = 0.05;

export function runTrace(
  recording: RecordingSnapshot,
  loop: { lengthM: number; lengthUncertaintyM: number },
): RunTrace {
  const { distanceM, cruise, lengthScale } = recording;
  const scale = lengthScale ?? 1;
  const gapShare = recording.gapDistanceM / distanceM;
  const off = distanceM / loop.lengthM - 1;
  const uDifferenceM = Math.hypot(TRACE_LENGTH_RELATIVE_U * distanceM, loop.lengthUncertaintyM);
  const percent = (share: number) => `${(100 * Math.abs(share)).toFixed(1)} %`;
  const reasonsNotUsed = [
    ...(Math.abs(off) > MOST_LENGTH_DIFFERENCE
      ? [`The recording is ${percent(off)} ${off < 0 ? 'shorter' : 'longer'} than the loop.`]
      : []),
    ...(gapShare > MOST_GAP_SHARE ? [`Gaps make up ${percent(gapShare)} of its distance.`] : []),
    ...(cruise === null ? ['It shows no steady cruise.'] : []),
  ];
  return {
    traceId: recording.traceId,
    distanceM,
    lengthScale,
    distanceCheck: {
      loopLengthM: loop.lengthM,
      uDifferenceM,
      agrees: Math.abs(distanceM - loop.lengthM) <= COVERAGE * uDifferenceM,
    },
    gapShare,
    reasonsNotUsed,
    meanSquareSpeedM2S2: scale ** 2 * recording.meanSquareSpeedM2S2,
    slowDowns: recording.slowDowns.map(({ fromMps, toMps, fallM }) => ({
      fromMps: scale * fromMps,
      toMps: scale * toMps,
      fallM: fallM === null ? null : scale * fallM,
    })),
    durationS: recording.durationS,
    cruise: cruise && {
      ...cruise,
      meanSpeedMps: scale * cruise.meanSpeedMps,
      spreadMps: scale * cruise.spreadMps,
    },
    bearings: bearingsOfSectors(recording.sectorShares),
    closureDistanceM: recording.closureDistanceM,
    netClimbM: recording.netClimbM,
  };
}

/** Sectors of 10°, each at its middle: ⟨cos²⟩ over a sector differs from that by less than 0.3 %. */
export function bearingsOfSectors(sectorShares: readonly number[]): BearingShare[] {
  return sectorShares.flatMap((share, sector) =>
    share > 0 ? [{ bearingDeg: (sector + 0.5) * (360 / sectorShares.length), share }] : [],
  );
}
