/**
 * Variance of the noise in speeds of an even grid, from what three of them spaced `lag` apart differ by beyond a
 * straight line: the pseudo-residuals v(k) − (v(k−lag) + v(k+lag))/2 have 3/2 of it where the noise is unrelated over
 * the lag (T. Gasser, L. Sroka, C. Jennen-Steinmetz, Biometrika 73 (1986) 625). Their median square instead of the
 * mean, so that ramps and stops do not count; a χ² of 1 degree of freedom has its median at 0.4549.
 *
 * Smoothing of reach h leaves noise that is unrelated over 4·h where the positions' noise wanders (autocorrelation
 * 0.003 by the transform of 1/(1 + ω⁴h⁴)²); where it is white it is −0.39, and the variance comes out half too large.
 * A speed that truly swings counts as noise as far as it bends within the lag: 0.1 m²/s² for ± 0.8 m/s in a minute.
 */
const medianOfChiSquare1 = 0.4549;
/** Slower, a car is stopping or standing. */
const movingMps = 5;
/** Fewer say nothing. */
const leastResiduals = 30;

export function speedNoiseM2S2(speedMps: Float64Array, lag: number): number {
  return noiseVariance(speedMps, speedMps, lag);
}

/** The same of the acceleration, by differences over two steps; m²/s⁴. */
export function accelerationNoise(speedMps: Float64Array, stepS: number, lag: number): number {
  const last = speedMps.length - 1;
  const acceleration = speedMps.map((_, k) => {
    const [from, to] = [Math.max(0, k - 1), Math.min(last, k + 1)];
    return to > from ? ((speedMps[to] as number) - (speedMps[from] as number)) / ((to - from) * stepS) : 0;
  });
  return noiseVariance(acceleration, speedMps, lag);
}

function noiseVariance(values: Float64Array, speedMps: Float64Array, lag: number): number {
  const squares: number[] = [];
  for (let k = lag; k + lag < values.length; k++) {
    const slowest = Math.min(speedMps[k - lag] ?? 0, speedMps[k] ?? 0, speedMps[k + lag] ?? 0);
    if (slowest <= movingMps) continue;
    const residual = (values[k] as number) - ((values[k - lag] as number) + (values[k + lag] as number)) / 2;
    squares.push(residual * residual);
  }
  if (lag < 1 || squares.length < leastResiduals) return 0;
  const sorted = Float64Array.from(squares).sort();
  return (sorted[sorted.length >> 1] as number) / (1.5 * medianOfChiSquare1);
}
