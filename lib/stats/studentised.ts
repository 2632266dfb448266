import { tTwoSided } from '@/lib/numerics/distributions';
import type { Variances } from './accumulate';
import { type CarSummary, sparseQuadratic, summariseCars } from './carSummaries';
import { evaluate } from './criterion';
import { holm } from './maxT';
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
  const square = problem.scale ** 2;
  const v = toScaled(problem, components);
  const at = evaluate(problem, v, true);
  const setupIndex = new Map(structure.setups.map((name, i) => [name, i]));
  const cars = summariseCars(problem, at);
  const nu = runs.length - problem.p;
  const commonScale = at.residualQuadratic / nu;
  const found: Omit<RunResidual, 'pHolm'>[] = [];
  runs.forEach((run, index) => {
    const setup = setupIndex.get(run.setup) as number;
    const car = cars[structure.carIndex.get(run.car) as number] as CarSummary;
    const sessionAt = structure.sessionIndex.get(nestedKey(run.car, run.session));
    const session = car.sessions.find((s) => s.index === sessionAt);
    if (session === undefined) throw new TypeError('the layout lost a session');
    const w = 1 / (v.residual + run.u ** 2 / square);
    const kappa = w / session.f;
    // X'V⁻¹1_i = w e_k − g w c − h κ C.
    const side = new Map<number, number>();
    for (const [k, value] of car.C) side.set(k, -car.h * kappa * value);
    for (const [k, value] of session.c) side.set(k, (side.get(k) ?? 0) - session.g * w * value);
    side.set(setup, (side.get(setup) ?? 0) + w);
    const pii = w - session.g * w * w - car.h * kappa * kappa - sparseQuadratic(problem, at, side);
    if (!(pii > 1e-9 * w)) return;
    const residual =
      (run.z - (problem.offset[setup] as number)) / problem.scale - (at.coefficients[setup] as number);
    const pz = w * residual - session.g * w * session.r - car.h * kappa * car.R;
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
