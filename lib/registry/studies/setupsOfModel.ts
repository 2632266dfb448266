import { fullLevels, type LevelWords } from '@/lib/run/setupLevels';
import type { Queryable } from '@/lib/store/database';
import { type modelToPlan, setupsToPlan } from '@/lib/store/studyBasis';

/** Setups of one model to choose from. */
const MOST_SETUPS = 60;

type Model = Pick<NonNullable<Awaited<ReturnType<typeof modelToPlan>>>, 'id' | 'levels'>;

/** Setups of a model with a level of every factor, those that are chosen already first. */
export async function setupsOfModel(
  db: Queryable,
  model: Model,
  chosen: readonly string[] = [],
): Promise<{ id: string; title: string; levels: LevelWords[] }[]> {
  const setups = await setupsToPlan(db, model.id, chosen, MOST_SETUPS);
  return setups.map((setup) => ({
    id: setup.id,
    title: setup.title,
    levels: fullLevels(setup, model.levels),
  }));
}
