import { chiSquareUpper, tUpperQuantile } from '@/lib/numerics/distributions';
import { prepare } from './problem';
import { fitReml } from './reml';
import { layOutRuns } from './structure';

/** Differences from several sessions combined into one, allowing the true difference to vary between them. */
export interface CombinedEffect {
  k: number;
  estimate: number;
  /** Knapp–Hartung standard error with k − 1 degrees of freedom; the plain one for k = 1. */
  se: number;
  df: number;
  interval: [number, number] | null;
  /** Plain standard error 1/√Σw. */
  plainSe: number;
  /** Variance of the true effect between sessions, by REML, and its standard error. */
  tau2: number;
  seTau2: number | null;
  /** Cochran's Q against one common effect, with its upper tail probability. */
  q: number;
  qP: number;
  /** Share of the spread that is between sessions, 0 … 1. Higgins J. P. T., Thompson S. G. (2002). */
  i2: number;
}

/**
 * Random-effects meta-analysis by REML (Viechtbauer W., 2005, J. Educ. Behav. Statistics 30, 261), interval by
 * Knapp G., Hartung J. (2003), Statistics in Medicine 22, 2693. It is the mixed model of this room with one
 * observation a car, known variances and no residual.
 *
 * @param effects one difference each, with its known sampling variance (positive)
 */
export function combineEffects(
  effects: readonly { y: number; variance: number }[],
  level = 0.95,
): CombinedEffect | null {
  const k = effects.length;
  if (k === 0) return null;
  const weights = effects.map((e) => 1 / e.variance);
  const total = weights.reduce((sum, w) => sum + w, 0);
  const fixed = effects.reduce((sum, e, i) => sum + (weights[i] as number) * e.y, 0) / total;
  if (k === 1) {
    const se = 1 / Math.sqrt(total);
    const tail = { tau2: 0, seTau2: null, q: 0, qP: 1, i2: 0 };
    return { k, estimate: fixed, se, df: 0, interval: null, plainSe: se, ...tail };
  }
  const q = effects.reduce((sum, e, i) => sum + (weights[i] as number) * (e.y - fixed) ** 2, 0);
  const structure = layOutRuns(
    effects.map((e, i) => ({
      setup: 'effect',
      car: String(i),
      session: '',
      z: e.y,
      u: Math.sqrt(e.variance),
    })),
  );
  const problem = prepare(structure);
  const fit = fitReml(problem, {
    car: true,
    carLoop: false,
    session: false,
    residual: false,
  });
  const tau2 = fit.at.variances.car * problem.scale ** 2;
  const inner = effects.map((e) => 1 / (e.variance + tau2));
  const innerTotal = inner.reduce((sum, w) => sum + w, 0);
  const estimate = effects.reduce((sum, e, i) => sum + (inner[i] as number) * e.y, 0) / innerTotal;
  const spread =
    effects.reduce((sum, e, i) => sum + (inner[i] as number) * (e.y - estimate) ** 2, 0) / (k - 1);
  const plainSe = 1 / Math.sqrt(innerTotal);
  const se = Math.sqrt(spread) * plainSe;
  const half = tUpperQuantile((1 - level) / 2, k - 1) * se;
  const squareTotal = weights.reduce((sum, w) => sum + w * w, 0);
  const typical = ((k - 1) * total) / (total * total - squareTotal);
  const information = fit.at.derivatives?.expected[0] ?? 0;
  return {
    k,
    estimate,
    se,
    df: k - 1,
    interval: [estimate - half, estimate + half],
    plainSe,
    tau2,
    seTau2: information > 0 ? problem.scale ** 2 / Math.sqrt(information) : null,
    q,
    qP: chiSquareUpper(q, k - 1),
    i2: tau2 / (tau2 + typical),
  };
}
