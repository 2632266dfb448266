import { choleskyFactor, type Matrix, solveCholesky, symmetricInverse } from '@/lib/numerics/smallMatrix';
import type { BodyClass } from '@/lib/run/bodyClass';
import type { TyreKind } from '@/lib/run/tyreKind';
import { STANDARD_GRAVITY } from './atmosphere';
import { AUXILIARY_PRIORS, DRAG_AREA_PRIORS, priorU, ROLLING_PRIORS, VEHICLE_PRIORS } from './priors';
import { JOULE_PER_METRE_PER_WH_PER_KM, rollingTemperatureFactor } from './roadLoad';

/**
 * A model's road load learned from its runs. Consumption is linear in (CdA/η, Crr/η, P_aux):
 *
 *   e_i − grade_i = a·x_aero,i + r·x_roll,i + p·(t/D)_i + car + noise
 *
 * so Gaussian priors are conjugate (A. Gelman et al., Bayesian Data Analysis, 3rd ed., 14.8). A shared deviation of each
 * car makes the noise correlated within a car. Used in place of the priors only when its leave-one-out log score is
 * better than theirs.
 */
export interface LearningRun {
  readonly carId: string;
  readonly consumptionWhPerKm: number;
  /** Run-scoped standard uncertainty of it. */
  readonly uWhPerKm: number;
  /** ½ρ·(M2 + w² + (1+κ)c²)/3.6: Wh/km per m² of CdA/η. */
  readonly aeroRegressor: number;
  /** m·g/(1 + K0(T−20))/3.6: Wh/km per unit of Crr/η. */
  readonly rollingRegressor: number;
  /** t/D in Wh/km per W. */
  readonly timeRegressor: number;
  /** m·g·Δh/(D·η)/3.6, known beforehand. */
  readonly gradeWhPerKm: number;
}

/** Means and covariance of (CdA/η in m², Crr/η, P_aux in W). */
export interface RoadLoadBelief {
  readonly mean: readonly number[];
  readonly covariance: Matrix;
}

export interface LearnedRoadLoad {
  readonly posterior: RoadLoadBelief;
  readonly runs: number;
  readonly cars: number;
  /** Sum over runs of ln p(run | the other runs), natural logarithm. */
  readonly leaveOneOutLogScore: number;
  /** Sum over runs of ln p(run | priors alone). */
  readonly priorLogScore: number;
  readonly beatsPriors: boolean;
}

export interface LearningSpread {
  /** Standard deviation of a car about its model, Wh/km. */
  readonly carWhPerKm: number;
  /** Repeatability beyond each run's stated uncertainty, Wh/km. */
  readonly runWhPerKm: number;
}

export function regressorsOf(run: {
  readonly airDensityKgM3: number;
  readonly meanSquareSpeedM2S2: number;
  readonly alongWindMps: number;
  readonly crossWindMps: number;
  readonly yawDragPerRad2: number;
  readonly massKg: number;
  readonly airTemperatureC: number;
  readonly durationS: number;
  readonly distanceM: number;
}): Pick<LearningRun, 'aeroRegressor' | 'rollingRegressor' | 'timeRegressor'> {
  const wind = run.alongWindMps ** 2 + (1 + run.yawDragPerRad2) * run.crossWindMps ** 2;
  return {
    aeroRegressor:
      (0.5 * run.airDensityKgM3 * (run.meanSquareSpeedM2S2 + wind)) / JOULE_PER_METRE_PER_WH_PER_KM,
    rollingRegressor:
      (run.massKg *
        STANDARD_GRAVITY *
        rollingTemperatureFactor(run.airTemperatureC, VEHICLE_PRIORS.rollingPerK.value)) /
      JOULE_PER_METRE_PER_WH_PER_KM,
    timeRegressor: run.durationS / (JOULE_PER_METRE_PER_WH_PER_KM * run.distanceM),
  };
}

/**
 * The priors of a body class and tyre kind as a belief on (CdA/η, Crr/η, P_aux); a shared η correlates the first two.
 * A drag area stated for the model takes the place of its class's, as it does in the adjustments.
 */
export function priorBelief(
  bodyClass: BodyClass,
  tyreKind: TyreKind,
  statedDragAreaM2?: number,
): RoadLoadBelief {
  const { value: efficiency, u: uEfficiency } = VEHICLE_PRIORS.efficiency;
  const drag =
    statedDragAreaM2 === undefined
      ? DRAG_AREA_PRIORS[bodyClass]
      : { value: statedDragAreaM2, u: priorU(VEHICLE_PRIORS.statedDragArea, statedDragAreaM2) };
  const rolling = ROLLING_PRIORS[tyreKind];
  const auxiliary = AUXILIARY_PRIORS.mild;
  const a = drag.value / efficiency;
  const r = rolling.value / efficiency;
  const relative = (uEfficiency / efficiency) ** 2;
  return {
    mean: [a, r, auxiliary.value],
    covariance: [
      [(drag.u / efficiency) ** 2 + a * a * relative, a * r * relative, 0],
      [a * r * relative, (rolling.u / efficiency) ** 2 + r * r * relative, 0],
      [0, 0, auxiliary.u ** 2],
    ],
  };
}

/** Posterior and scores from the joint Gaussian of the runs, y ~ N(X·μ, X·Σ·Xᵀ + V). */
export function learnRoadLoad(
  runs: readonly LearningRun[],
  prior: RoadLoadBelief,
  spread: LearningSpread,
): LearnedRoadLoad {
  const rows = runs.map((run) => [run.aeroRegressor, run.rollingRegressor, run.timeRegressor]);
  const noise = runs.map((a, i) =>
    runs.map((b, j) => {
      const shared = a.carId === b.carId ? spread.carWhPerKm ** 2 : 0;
      return shared + (i === j ? a.uWhPerKm ** 2 + spread.runWhPerKm ** 2 : 0);
    }),
  );
  const fitted = conjugateRegression(
    rows,
    runs.map((run) => run.consumptionWhPerKm - run.gradeWhPerKm),
    noise,
    prior,
  );
  return {
    ...fitted,
    runs: runs.length,
    cars: new Set(runs.map((run) => run.carId)).size,
    beatsPriors: fitted.leaveOneOutLogScore > fitted.priorLogScore,
  };
}

/**
 * Linear regression with known noise covariance V and Gaussian prior N(μ, Σ):
 * posterior mean μ + Σ·Xᵀ·K⁻¹(y − Xμ) and covariance Σ − Σ·Xᵀ·K⁻¹·X·Σ with K = XΣXᵀ + V; leave-one-out predictions in
 * closed form, y_i − [K⁻¹(y − m)]_i/[K⁻¹]_ii with variance 1/[K⁻¹]_ii (C. Rasmussen, C. Williams, Gaussian Processes
 * for Machine Learning, 2006, equation 5.12).
 */
export function conjugateRegression(
  rows: Matrix,
  y: readonly number[],
  noise: Matrix,
  prior: RoadLoadBelief,
): { posterior: RoadLoadBelief; leaveOneOutLogScore: number; priorLogScore: number } {
  const size = prior.mean.length;
  const priorColumns = rows.map((row) => prior.covariance.map((line) => dot(line, row))); // Σ·x_i
  const marginal = rows.map((row, i) =>
    rows.map((_, j) => dot(row, priorColumns[j] as number[]) + (noise[i]?.[j] ?? 0)),
  );
  const surprise = y.map((value, i) => value - dot(rows[i] as number[], prior.mean));
  const factor = choleskyFactor(marginal);
  const weights = solveCholesky(factor, surprise);
  const inverse = symmetricInverse(factor);

  const mean = prior.mean.map(
    (value, k) =>
      value +
      dot(
        weights,
        priorColumns.map((column) => column[k] as number),
      ),
  );
  const covariance = Array.from({ length: size }, (_, k) => {
    const solved = solveCholesky(
      factor,
      priorColumns.map((column) => column[k] as number),
    );
    return Array.from(
      { length: size },
      (_, l) =>
        (prior.covariance[k]?.[l] ?? 0) -
        dot(
          solved,
          priorColumns.map((column) => column[l] as number),
        ),
    );
  });

  let leaveOneOutLogScore = 0;
  let priorLogScore = 0;
  surprise.forEach((value, i) => {
    const precision = inverse[i]?.[i] as number;
    leaveOneOutLogScore += logNormalDensity((weights[i] as number) / precision, 1 / precision);
    priorLogScore += logNormalDensity(value, marginal[i]?.[i] as number);
  });
  return { posterior: { mean, covariance }, leaveOneOutLogScore, priorLogScore };
}

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
  spread: LearningSpread,
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

function logNormalDensity(deviation: number, variance: number): number {
  return -0.5 * (Math.log(2 * Math.PI * variance) + (deviation * deviation) / variance);
}
