import type { TracePoint } from '@/lib/capture/trace/tracePoint';
import { seededRandom } from '@/lib/numerics/seededRandom';

export interface SatelliteNoise {
  readonly seed: number;
  /** Standard deviation east, and north; of height it is twice that. */
  readonly sigmaM: number;
  /** Over which the error is correlated: exp(−Δt/τ). */
  readonly correlationS: number;
  /** Decimals of a degree that are written. */
  readonly decimals?: number;
}

/**
 * Fixes with the error of a first-order Gauss–Markov process in each direction, drawn exactly for the times between
 * them (A. Gelb, Applied Optimal Estimation, 1974, 2.2), and written with so many decimals.
 */
export function withSatelliteNoise(points: readonly TracePoint[], noise: SatelliteNoise): TracePoint[] {
  const random = seededRandom(noise.seed);
  const { sigmaM, correlationS, decimals } = noise;
  let [east, north] = [sigmaM * random.nextNormal(), sigmaM * random.nextNormal()];
  let up = 2 * sigmaM * random.nextNormal();
  let before = Number.NaN;
  const written = (degrees: number) => (decimals === undefined ? degrees : Number(degrees.toFixed(decimals)));
  return points.map((point) => {
    const seconds = (point.timeMs ?? 0) / 1000;
    if (!Number.isNaN(before)) {
      const kept = Math.exp(-(seconds - before) / correlationS);
      const fresh = sigmaM * Math.sqrt(1 - kept * kept);
      east = kept * east + fresh * random.nextNormal();
      north = kept * north + fresh * random.nextNormal();
      up = kept * up + 2 * fresh * random.nextNormal();
    }
    before = seconds;
    const metresEast = 111_320 * Math.cos((point.latitudeDeg * Math.PI) / 180);
    return {
      ...point,
      latitudeDeg: written(point.latitudeDeg + north / 111_200),
      longitudeDeg: written(point.longitudeDeg + east / metresEast),
      elevationM: point.elevationM === null ? null : point.elevationM + up,
    };
  });
}
