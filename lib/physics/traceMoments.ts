/**
 * Moments of a speed trace, exact for speed linear between samples. The model's M2 is the distance-weighted mean of
 * squared speed, ∫v³dt/∫v dt, which is v² at steady speed and more than the square of the mean speed otherwise.
 */
export interface SlowDown {
  readonly fromMps: number;
  readonly toMps: number;
}

export interface TraceMoments {
  readonly distanceM: number;
  readonly durationS: number;
  readonly meanSpeedMps: number;
  readonly meanSquareSpeedM2S2: number;
  /** Falls of speed larger than the threshold, from a peak to the next trough. */
  readonly slowDowns: readonly SlowDown[];
}

/** A fall of speed of less than this is the cruise control's play or the trace's noise, not a slow-down. */
export const SLOW_DOWN_THRESHOLD_MPS = 3;

export function traceMoments(
  timesS: ArrayLike<number>,
  speedsMps: ArrayLike<number>,
  thresholdMps = SLOW_DOWN_THRESHOLD_MPS,
): TraceMoments {
  const count = timesS.length;
  if (count < 2 || speedsMps.length !== count)
    throw new RangeError('a trace needs two samples and as many times');
  let distance = 0;
  let cubed = 0;
  for (let i = 1; i < count; i++) {
    const dt = (timesS[i] as number) - (timesS[i - 1] as number);
    if (!(dt > 0)) throw new RangeError('times of a trace must rise');
    const a = speedsMps[i - 1] as number;
    const b = speedsMps[i] as number;
    distance += (dt * (a + b)) / 2;
    cubed += (dt * (a * a * a + a * a * b + a * b * b + b * b * b)) / 4;
  }
  if (!(distance > 0)) throw new RangeError('a trace needs a distance above zero');
  const durationS = (timesS[count - 1] as number) - (timesS[0] as number);
  return {
    distanceM: distance,
    durationS,
    meanSpeedMps: distance / durationS,
    meanSquareSpeedM2S2: cubed / distance,
    slowDowns: findSlowDowns(speedsMps, thresholdMps),
  };
}

/** Turning points with hysteresis: a trough ends when speed has risen by the threshold again. */
function findSlowDowns(speedsMps: ArrayLike<number>, thresholdMps: number): SlowDown[] {
  const found: SlowDown[] = [];
  let peak = speedsMps[0] as number;
  let trough = peak;
  for (let i = 1; i < speedsMps.length; i++) {
    const speed = speedsMps[i] as number;
    if (peak - trough < thresholdMps) {
      // still cruising: follow the peak, and note how far it has fallen
      if (speed > peak) {
        peak = speed;
        trough = speed;
      } else if (speed < trough) trough = speed;
    } else if (speed < trough) {
      trough = speed;
    } else if (speed - trough >= thresholdMps) {
      found.push({ fromMps: peak, toMps: trough });
      peak = speed;
      trough = speed;
    }
  }
  if (peak - trough >= thresholdMps) found.push({ fromMps: peak, toMps: trough });
  return found;
}
