import { type FittedComponents, fitComponents } from './components';
import type { FitOptions, FitRow } from './groupFit';
import { type ComponentPriors, type Moderation, moderationFor, seenDegrees } from './moderation';
import type { FreeComponents } from './reml';
import { meanSquaredPart } from './sharedEffects';
import type { Structure } from './structure';

export interface ClassComponents {
  fitted: FittedComponents;
  wanted: FreeComponents;
  moderation: Moderation;
}

/** The components of a class as a published fit of these rows has them: its columns, its priors, what it borrows. */
export function fitClassComponents(
  structure: Structure,
  rows: readonly FitRow[],
  options: Pick<FitOptions, 'drop' | 'priors' | 'pooledCarLoop'>,
): ClassComponents {
  const drop = options.drop ?? [];
  const wanted = wantedComponents(rows, drop);
  const moderation = options.priors === undefined ? {} : priorsFor(structure, rows, options.priors, drop);
  const fitted = fitComponents(structure, { wanted, pooledCarLoop: options.pooledCarLoop, moderation });
  return { fitted, wanted, moderation };
}

/** A component needs its column: without loops no car can differ between them. */
function wantedComponents(rows: readonly FitRow[], drop: readonly string[]): FreeComponents {
  return {
    car: !drop.includes('car'),
    carLoop: !drop.includes('carLoop') && rows.some((row) => row.loop !== undefined),
    session: !drop.includes('session'),
    residual: true,
  };
}

/** Priors hold what the runs' own budgets put into a component beside the assumed spread (method B5). */
function priorsFor(
  structure: Structure,
  rows: readonly FitRow[],
  priors: ComponentPriors,
  drop: readonly string[],
): Moderation {
  const { car, session, ...rest } = moderationFor(seenDegrees(structure), {
    car: priors.carSd ** 2 + meanSquaredPart(rows, 'car'),
    session: priors.sessionSd ** 2 + meanSquaredPart(rows, 'session'),
    residual: priors.runSd ** 2,
  });
  return {
    ...rest,
    ...(car === undefined || drop.includes('car') ? {} : { car }),
    ...(session === undefined || drop.includes('session') ? {} : { session }),
  };
}
