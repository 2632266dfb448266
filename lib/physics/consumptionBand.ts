import { type RoadLoadBelief, regressorsOf } from './learned';

export interface BandPoint {
  readonly speedMps: number;
  readonly consumptionWhPerKm: number;
  /** Of the model's mean consumption. */
  readonly uMeanWhPerKm: number;
  /** Of one run of a further car, with car and run scatter. */
  readonly uPredictionWhPerKm: number;
}

/** Consumption against steady speed with its prediction band, at given conditions without wind or climb. */
export function consumptionBand(
  belief: RoadLoadBelief,
  spread: { readonly carWhPerKm: number; readonly runWhPerKm: number },
  conditions: { readonly airDensityKgM3: number; readonly airTemperatureC: number; readonly massKg: number },
  speedsMps: readonly number[],
): BandPoint[] {
  return speedsMps.map((speedMps) => {
    const { aeroRegressor, rollingRegressor, timeRegressor } = regressorsOf({
      ...conditions,
      meanSquareSpeedM2S2: speedMps * speedMps,
      alongWindMps: 0,
      crossWindMps: 0,
      yawDragPerRad2: 0,
      durationS: 1,
      distanceM: speedMps,
    });
    const row = [aeroRegressor, rollingRegressor, timeRegressor];
    const variance = dot(
      row,
      belief.covariance.map((line) => dot(line, row)),
    );
    return {
      speedMps,
      consumptionWhPerKm: dot(row, belief.mean),
      uMeanWhPerKm: Math.sqrt(variance),
      uPredictionWhPerKm: Math.sqrt(variance + spread.carWhPerKm ** 2 + spread.runWhPerKm ** 2),
    };
  });
}

function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}
