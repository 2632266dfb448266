import { fitComponents, isTooSmall } from './components';
import type { FitRow, PooledComponents } from './groupFit';
import { layOutRows, replicatedCells } from './groupLayout';
import { prepare } from './problem';
import { screenRows } from './screenRows';

const ALL = { car: true, session: true, residual: true } as const;

/** Whether a fit of these rows takes pooled components, if it is given any: it has too few to see its own. */
export function needsPooledComponents(rows: readonly FitRow[]): boolean {
  const { used } = screenRows(rows);
  return used.length > 0 && isTooSmall(prepare(layOutRows(used)), ALL);
}

/**
 * Components over all rows together, for groups too small to have their own: one REML fit with every setup as a fixed
 * effect, so that only the scatter about each setup's own level is pooled. Rows of several groups may be given when
 * their setups are named apart; a car or a session that is in several of them stays one car, one session.
 *
 * Null when even these rows are too few, do not converge, or show no repeatability beyond their known uncertainties:
 * what is borrowed has to be better known than what it replaces.
 *
 * @param from what the rows are, in words for the page
 */
export function poolComponents(rows: readonly FitRow[], from: string): PooledComponents | null {
  const { used } = screenRows(rows);
  if (used.length === 0) return null;
  const structure = layOutRows(used);
  const problem = prepare(structure);
  if (isTooSmall(problem, ALL)) return null;
  const fitted = fitComponents(problem, ALL, undefined, undefined);
  if (fitted.at === null || fitted.unidentified.length > 0 || !fitted.converged) return null;
  if (!(fitted.components.residual > 0)) return null;
  const covariance = [0, 1, 2].map((i) => Array.from(fitted.covariance.subarray(3 * i, 3 * i + 3)));
  return {
    ...fitted.components,
    from,
    covariance,
    cells: replicatedCells(structure),
    residualDf: structure.runs - problem.p,
  };
}
