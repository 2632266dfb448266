import { CARS_ON_TWO_LOOPS_NEED, fitComponents } from './components';
import type { FitRow } from './fitRow';
import type { PooledCarLoop } from './groupFit';
import { carsOnTwoLoops } from './groupLayout';
import { columnsOf, type RunColumns } from './runColumns';
import { screenRows } from './screenRows';
import { layOutColumns } from './structure';

/** Whether a fit of these rows takes a pooled car-on-loop variance, if it is given one: too few drove two loops. */
export function needsPooledCarLoop(runs: RunColumns | readonly FitRow[]): boolean {
  const { used } = screenRows(columnsOf(runs));
  return used.count > 0 && carsOnTwoLoops(layOutColumns(used)) < CARS_ON_TWO_LOOPS_NEED;
}

/**
 * The variance of a car on a loop over all rows together, for groups where too few cars drove two: one REML fit with
 * every setup as a fixed effect, so that only the scatter about each setup's own level is pooled. Rows of several
 * groups may be given when their setups are named apart; a car or a session that is in several of them stays one car,
 * one session.
 *
 * Null when even in these rows too few cars drove two loops, or the fit cannot tell the component.
 *
 * @param from what the rows are, in words for the page
 */
export function poolCarLoop(runs: RunColumns | readonly FitRow[], from: string): PooledCarLoop | null {
  const { used } = screenRows(columnsOf(runs));
  if (used.count === 0) return null;
  const wanted = { car: true, carLoop: true, session: true, residual: true };
  const fitted = fitComponents(layOutColumns(used), { wanted });
  if (fitted.at === null || !fitted.converged || fitted.origins.carLoop !== 'own') return null;
  // Where a component was given up, what is left has taken its share.
  if (fitted.unidentified.length > 0) return null;
  const varianceOfVariance = fitted.covariance[5] as number;
  return { variance: fitted.components.carLoop, varianceOfVariance, from };
}
