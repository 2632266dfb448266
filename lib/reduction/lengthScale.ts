import { TRACE_LENGTH_RELATIVE_U } from './runTrace';

const COVERAGE = 2;
/** A recording begins, and ends, so far beside the place from which the loop is counted. Own judgement. */
const END_U_M = 30;
/** One that ends farther from its start is not of the whole loop. Own judgement. */
const SAME_PLACE_M = 200;

/**
 * What a recording's lengths and speeds are multiplied by so that it agrees with the loop's known length: its own and
 * the loop's are two readings of one length, joined by their weighted mean with weights 1/u² (C. F. Gauss; JCGM 100,
 * 5.1 and H.10). A loop known to a tenth of a per cent takes nearly all of the weight. 1, which leaves the recording as it
 * is, where the two are farther apart than 2 u of their difference, or where it does not close: something else than the
 * noise of fixes is then between them.
 */
export function lengthScale(
  recording: { distanceM: number; closureDistanceM: number },
  loop: { lengthM: number; lengthUncertaintyM: number },
): number {
  const { distanceM, closureDistanceM } = recording;
  const uRecordedM = TRACE_LENGTH_RELATIVE_U * distanceM;
  const uLoopM = Math.hypot(loop.lengthUncertaintyM, Math.SQRT2 * END_U_M);
  const agrees = Math.abs(distanceM - loop.lengthM) <= COVERAGE * Math.hypot(uRecordedM, uLoopM);
  if (!agrees || closureDistanceM > SAME_PLACE_M) return 1;
  const ofLoop = uRecordedM ** 2 / (uRecordedM ** 2 + uLoopM ** 2);
  return 1 + ofLoop * (loop.lengthM / distanceM - 1);
}
