import { tTwoSided } from '@/lib/numerics/distributions';
import type { Variances } from './accumulate';
import { evaluate } from './criterion';
import { holm } from './maxT';
import {
  cellResiduals,
  knowPath,
  predictEffects,
  runWeight,
  sparseQuadratic,
  weighTree,
} from './nestedEffects';
import { prepareFor, toScaled } from './problem';
import { layOutRuns, nestedKey, type Observation } from './structure';

/** How one run sits among all the others. */
export interface RunResidual {
  /** Position of the run in the input. */
  index: number;
  /** Run minus what the others predict for it (leave-one-out), original units. */
  leaveOneOut: number;
  /** Standard deviation of `leaveOneOut`. */
  sd: number;
  /** Externally studentised: scaled by the spread estimated without this run. */
  studentised: number;
  /** Two-sided p-value, and Holm-adjusted over all runs. */
  p: number;
  pHolm: number;
}

/**
 * Leave-one-out residuals of every run at given components, without refitting: with P = V⁻¹ − V⁻¹X M⁻¹X'V⁻¹,
 *   z_i − ẑ_(i) = (Pz)_i / P_ii,  variance 1/P_ii.
 * Studentised externally by r √((ν − 1)/(ν − r²)), r = (Pz)_i/√P_ii over the fit's own scale, ν = N − p, which
 * re-estimates the common scale without the run. Cook R. D., Weisberg S. (1982), Residuals and Influence, ch. 2;
 * for mixed models Haslett J., Haslett S. (2007), Int. Statistical Review 75, 1.
 * A run that alone carries its setup has no leave-one-out prediction and is left out.
 */
export function leaveOneOutResiduals(runs: readonly Observation[], components: Variances): RunResidual[] {
  const structure = layOutRuns(runs);
  const problem = prepareFor(structure, components);
  const v = toScaled(problem, components);
  const at = evaluate(problem, v, true);
  const tree = weighTree(problem, v);
  const effects = predictEffects(tree, cellResiduals(problem, at));
  const nu = runs.length - problem.p;
  const commonScale = at.residualQuadratic / nu;
  const paths = new Map<number, ReturnType<typeof knowPath>>();
  const found: Omit<RunResidual, 'pHolm'>[] = [];
  runs.forEach((run, index) => {
    const cell = structure.cellOfItem[index] as number;
    const setup = structure.cellSetup[cell] as number;
    const ses = structure.sessionIndex.get(nestedKey(run.car, run.loop ?? '', run.session)) as number;
    const loop = tree.loopOfSession[ses] as number;
    const car = tree.carOfLoop[loop] as number;
    const known = paths.get(ses) ?? knowPath(tree, { car, loop, session: ses });
    paths.set(ses, known);
    const w = runWeight(tree, cell);
    // X'V⁻¹1_i = w (e_setup − the share of each setup in the prediction of the run's effects).
    const side = new Map([[setup, w]]);
    for (const [k, share] of known.toward) side.set(k, (side.get(k) ?? 0) - w * share);
    const pii = w - w * w * known.variance - sparseQuadratic(problem, at, side);
    if (!(pii > 1e-9 * w)) return;
    const offset = problem.base + (problem.offset[setup] as number);
    const residual = (run.z - offset) / problem.scale - (at.coefficients[setup] as number);
    const predicted =
      (effects.car[car] as number) + (effects.loop[loop] as number) + (effects.session[ses] as number);
    const pz = w * (residual - predicted);
    const internal = pz / Math.sqrt(pii * commonScale);
    const left = nu - internal * internal;
    const studentised =
      left > 0 ? internal * Math.sqrt((nu - 1) / left) : internal * Number.POSITIVE_INFINITY;
    found.push({
      index,
      leaveOneOut: (problem.scale * pz) / pii,
      sd: problem.scale / Math.sqrt(pii),
      studentised,
      p: nu > 1 ? tTwoSided(studentised, nu - 1) : 1,
    });
  });
  const adjusted = holm(found.map((r) => r.p));
  return found.map((r, i) => ({ ...r, pHolm: adjusted[i] as number }));
}
