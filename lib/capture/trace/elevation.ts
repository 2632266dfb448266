/**
 * Height along the route. Heights are brought to an even spacing of distance and smoothed with triangular weights that
 * fall to nothing 150 m away (a Bartlett window; shorter near the ends so that a steady grade is not bent). Climb is
 * then counted with a dead band of 2 m: a rise or fall counts once it has passed 2 m from the last turning height.
 * Both figures are ours; without them a receiver's wander of a metre or two would add up to hundreds of metres.
 */
import { resample, withoutMissing } from './resample';

export const heightSpacingM = 25;
const halfWindowM = 150;
const deadBandM = 2;

export interface HeightProfile {
  readonly spacingM: number;
  /** Smoothed, at 0, spacing, 2·spacing … along the route. */
  readonly heightM: Float64Array;
}

export interface Climb {
  /** Height at the end less that at the start. */
  readonly netM: number;
  readonly upM: number;
  readonly downM: number;
}

/** Null where fewer than half of the points say a height. */
export function heightProfileOf(distanceM: Float64Array, elevationM: Float64Array): HeightProfile | null {
  const [x, y] = withoutMissing(distanceM, elevationM);
  const totalM = distanceM.at(-1) ?? 0;
  if (x.length < 2 || x.length < 0.5 * elevationM.length || !(totalM > 0)) return null;
  const nodes = Math.max(2, Math.round(totalM / heightSpacingM) + 1);
  const spacingM = totalM / (nodes - 1);
  return { spacingM, heightM: smooth(resample(x, y, nodes, spacingM), spacingM) };
}

export function climbOf(profile: HeightProfile, fromM: number, toM: number): Climb {
  const last = profile.heightM.length - 1;
  const nodeAt = (metres: number) => Math.min(last, Math.max(0, Math.round(metres / profile.spacingM)));
  const [from, to] = [nodeAt(fromM), nodeAt(toM)];
  const height = (k: number) => profile.heightM[k] as number;
  let [upM, downM] = [0, 0];
  let low = height(from);
  let high = low;
  let direction = 0;
  // low and high are the extremes since the last turn; a turn is real once it is deeper than the dead band.
  for (let k = from + 1; k <= to; k++) {
    const h = height(k);
    if (direction >= 0 && h > high) high = h;
    if (direction <= 0 && h < low) low = h;
    if (direction >= 0 && high - h >= deadBandM) {
      if (direction > 0) upM += high - low;
      direction = -1;
      low = h;
    } else if (direction <= 0 && h - low >= deadBandM) {
      if (direction < 0) downM += high - low;
      direction = 1;
      high = h;
    }
  }
  if (direction > 0) upM += high - low;
  if (direction < 0) downM += high - low;
  return { netM: height(to) - height(from), upM, downM };
}

function smooth(heightM: Float64Array, spacingM: number): Float64Array {
  const reach = Math.floor(halfWindowM / spacingM);
  const last = heightM.length - 1;
  return heightM.map((_, k) => {
    const half = Math.min(reach, k, last - k);
    let [sum, weights] = [0, 0];
    for (let shift = -half; shift <= half; shift++) {
      const weight = half + 1 - Math.abs(shift);
      sum += weight * (heightM[k + shift] as number);
      weights += weight;
    }
    return sum / weights;
  });
}
