import { TRACE_LENGTH_RELATIVE_U } from './runTrace';

/** A recording of a run on the loop, as far as the loop's own figures go. */
export interface LoopRecording {
  runNumber: number;
  testerId: string;
  distanceM: number;
  offCruiseShare: number;
  /** Share of the distance that was bridged over gaps. */
  gapShare: number;
}

export interface LoopConsensus {
  /** Recordings taken, and by how many testers. */
  recordings: number;
  testers: number;
  lengthM: number;
  uLengthM: number;
  /** Birge ratio of the testers' means; null with one tester. */
  birgeRatio: number | null;
  /** Off-cruise share of the recordings: mean, and the lowest and highest. */
  offCruise: { mean: number; low: number; high: number };
}

/** A bridged stretch may be this much longer on the road than the straight over it. Own judgement. */
const BRIDGE_RELATIVE_U = 0.1;

/**
 * Length of a loop from recordings of it: the mean of each tester's, whose receiver and habits they share, then the
 * mean of testers with weights 1/u², widened by the Birge ratio where they disagree (R. T. Birge, Phys. Rev. 40 (1932)
 * 207). A tester's u is that of one recording: more of them by one receiver do not make it truer. Null without any.
 */
export function loopConsensus(recordings: readonly LoopRecording[]): LoopConsensus | null {
  if (recordings.length === 0) return null;
  const testers = [...new Set(recordings.map(({ testerId }) => testerId))];
  const means = testers
    .map((tester) => recordings.filter(({ testerId }) => testerId === tester))
    .map((own) => ({
      lengthM: mean(own.map(({ distanceM }) => distanceM)),
      uM: mean(own.map(uOf)),
    }));
  const weight = means.reduce((sum, { uM }) => sum + 1 / uM ** 2, 0);
  const lengthM = means.reduce((sum, one) => sum + one.lengthM / one.uM ** 2, 0) / weight;
  const chiSquare = means.reduce((sum, one) => sum + ((one.lengthM - lengthM) / one.uM) ** 2, 0);
  const birgeRatio = means.length < 2 ? null : Math.sqrt(chiSquare / (means.length - 1));
  const shares = recordings.map(({ offCruiseShare }) => offCruiseShare);
  return {
    recordings: recordings.length,
    testers: means.length,
    lengthM,
    uLengthM: Math.max(1, birgeRatio ?? 1) / Math.sqrt(weight),
    birgeRatio,
    offCruise: { mean: mean(shares), low: Math.min(...shares), high: Math.max(...shares) },
  };
}

function uOf({ distanceM, gapShare }: LoopRecording): number {
  return distanceM * Math.hypot(TRACE_LENGTH_RELATIVE_U, BRIDGE_RELATIVE_U * gapShare);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
