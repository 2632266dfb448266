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
 * car, of the whole and of its drag alone, makes the noise correlated within a car. Used in place of the priors only
 * when it predicts whole cars better than they do: leaving out single runs would reward what a car or a day shares.
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
  /** Sum over cars of ln p(all runs of the car | the other cars' runs), natural logarithm. */
  readonly leftOutCarsLogScore: number;
  /** Sum over cars of ln p(all runs of the car | priors alone). */
  readonly priorLogScore: number;
  readonly beatsPriors: boolean;
}

export interface LearningSpread {
  /** Standard deviation of a car about its model, Wh/km. */
  readonly carWhPerKm: number;
  /** Standard deviation of a car's drag about its model's, as a share of it. */
  readonly carDragShare: number;
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
  const dragOf = (run: LearningRun) => (prior.mean[0] as number) * run.aeroRegressor;
  const noise = runs.map((a, i) =>
    runs.map((b, j) => {
      const ownDrag = spread.carDragShare ** 2 * dragOf(a) * dragOf(b);
      const shared = a.carId === b.carId ? spread.carWhPerKm ** 2 + ownDrag : 0;
      return shared + (i === j ? a.uWhPerKm ** 2 + spread.runWhPerKm ** 2 : 0);
    }),
  );
  const fitted = conjugateRegression(
    rows,
    runs.map((run) => run.consumptionWhPerKm - run.gradeWhPerKm),
    noise,
    prior,
    runs.map((run) => run.carId),
  );
  return { ...fitted, runs: runs.length, beatsPriors: beatsPriors(fitted) };
}

/** Fewer cars cannot tell a model from one of its cars. */
const FEWEST_CARS = 2;

export function beatsPriors(learned: {
  readonly cars: number;
  readonly leftOutCarsLogScore: number;
  readonly priorLogScore: number;
}): boolean {
  return learned.cars >= FEWEST_CARS && learned.leftOutCarsLogScore > learned.priorLogScore;
}

/**
 * Linear regression with known noise covariance V and Gaussian prior N(μ, Σ):
 * posterior mean μ + Σ·Xᵀ·K⁻¹(y − Xμ) and covariance Σ − Σ·Xᵀ·K⁻¹·X·Σ with K = XΣXᵀ + V. Each car's runs B
 * are predicted from those of all other cars in closed form, with residual ([K⁻¹]_BB)⁻¹[K⁻¹(y − m)]_B and covariance
 * ([K⁻¹]_BB)⁻¹ (C. Rasmussen, C. Williams, Gaussian Processes for Machine Learning, 2006, equation 5.12, for a block).
 *
 * @param cars of each row
 */
export function conjugateRegression(
  rows: Matrix,
  y: readonly number[],
  noise: Matrix,
  prior: RoadLoadBelief,
  cars: readonly string[],
): { posterior: RoadLoadBelief; cars: number; leftOutCarsLogScore: number; priorLogScore: number } {
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

  const blocks = new Map<string, number[]>();
  cars.forEach((car, i) => {
    blocks.set(car, [...(blocks.get(car) ?? []), i]);
  });
  let leftOutCarsLogScore = 0;
  let priorLogScore = 0;
  for (const block of blocks.values()) {
    const of = (matrix: Matrix) => block.map((i) => block.map((j) => matrix[i]?.[j] as number));
    const at = (values: readonly number[]) => block.map((i) => values[i] as number);
    // ln N(r | 0, P⁻¹) with r = P⁻¹w is −½(n·ln 2π − ln|P| + wᵀP⁻¹w)
    const precision = choleskyFactor(of(inverse));
    const w = at(weights);
    leftOutCarsLogScore +=
      -0.5 * (block.length * LOG_2_PI - logDeterminant(precision) + dot(w, solveCholesky(precision, w)));
    const alone = choleskyFactor(of(marginal));
    const r = at(surprise);
    priorLogScore +=
      -0.5 * (block.length * LOG_2_PI + logDeterminant(alone) + dot(r, solveCholesky(alone, r)));
  }
  return { posterior: { mean, covariance }, cars: blocks.size, leftOutCarsLogScore, priorLogScore };
}

const LOG_2_PI = Math.log(2 * Math.PI);

/** Of the matrix whose Cholesky factor is given. */
function logDeterminant(factor: Matrix): number {
  return factor.reduce((sum, row, i) => sum + 2 * Math.log(row[i] as number), 0);
}

function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}
