import { type FittedComponents, fitComponents } from './components';
import type { FitOptions } from './groupFit';
import { type ComponentPriors, type Moderation, moderationFor, seenDegrees } from './moderation';
import type { FreeComponents } from './reml';
import type { RunColumns } from './runColumns';
import type { ReadyColumns } from './sessionSpread';
import { meanSquaredPart } from './sharedEffects';
import type { Structure } from './structure';

export interface ClassComponents {
  fitted: FittedComponents;
  wanted: FreeComponents;
  moderation: Moderation;
}

/**
 * The components of a class as a published fit of these runs has them: its columns, its priors, what it borrows.
 *
 * @param structure laid out from the runs as they are here: ready
 */
export function fitClassComponents(
  structure: Structure,
  runs: ReadyColumns,
  options: Pick<FitOptions, 'drop' | 'priors' | 'pooledCarLoop'>,
): ClassComponents {
  const drop = options.drop ?? [];
  const wanted = wantedComponents(runs, drop);
  const moderation = options.priors === undefined ? {} : priorsFor(structure, runs, options.priors, drop);
  const fitted = fitComponents(structure, { wanted, pooledCarLoop: options.pooledCarLoop, moderation });
  return { fitted, wanted, moderation };
}

/** A component needs its column: without loops no car can differ between them. */
function wantedComponents(runs: RunColumns, drop: readonly string[]): FreeComponents {
  return {
    car: !drop.includes('car'),
    carLoop: !drop.includes('carLoop') && runs.loop.names.length > 0,
    session: !drop.includes('session'),
    residual: true,
  };
}

/** Priors hold what the runs' own budgets put into a component beside the assumed spread (method B5). */
function priorsFor(
  structure: Structure,
  runs: RunColumns,
  priors: ComponentPriors,
  drop: readonly string[],
): Moderation {
  const { car, session, ...rest } = moderationFor(seenDegrees(structure), {
    car: priors.carSd ** 2 + meanSquaredPart(runs, 'car'),
    session: priors.sessionSd ** 2 + meanSquaredPart(runs, 'session'),
    residual: priors.runSd ** 2,
  });
  return {
    ...rest,
    ...(car === undefined || drop.includes('car') ? {} : { car }),
    ...(session === undefined || drop.includes('session') ? {} : { session }),
  };
}
