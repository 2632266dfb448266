import { authorise } from '@/lib/access/authorise';
import { NotFound } from '@/lib/run/errors';
import { FACTORS } from '@/lib/run/factors';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { modelById, modelListed } from '@/lib/store/models';
import { readModels } from '../models/models';
import type { Registry } from '../registry';

export interface ModelChoice {
  id: string;
  label: string;
}

export interface ModelChoices {
  models: ModelChoice[];
  /** Of how many that meet the search. */
  total: number;
}

/**
 * Models that a new car can be of, with a text those that have it in a name, a page of them by maker and name; the one
 * that is chosen already is always among them.
 */
export async function modelChoices(
  registry: Registry,
  actor: Actor | undefined,
  query: { text?: string | undefined; chosenId?: string | undefined } = {},
): Promise<ModelChoices> {
  authorise(actor, 'addCar');
  const [{ rows, total }, chosen] = await Promise.all([
    readModels(registry, { text: query.text }),
    query.chosenId === undefined ? null : modelListed(registry.db, query.chosenId),
  ]);
  const choices = rows.map(({ id, maker, ...model }) => ({
    id,
    label: modelWords({ ...model, maker: { name: maker } }),
  }));
  if (chosen !== null && !choices.some(({ id }) => id === chosen.id))
    choices.unshift({ id: chosen.id, label: modelWords(chosen) });
  return { models: choices, total };
}

export interface SetupChoices {
  modelId: string;
  model: string;
  factors: {
    key: string;
    label: string;
    /** The level that the model is delivered with, once it is known. */
    delivered: string | undefined;
    /** The others. */
    levels: { id: string; label: string }[];
  }[];
}

/** The levels of every factor that a setup of a model can be made of. */
export async function setupChoices(
  registry: Registry,
  actor: Actor | undefined,
  modelId: string,
): Promise<SetupChoices> {
  authorise(actor, 'addModel');
  const model = await modelById(registry.db, modelId);
  if (model === null) throw new NotFound('This model does not exist.');
  return {
    modelId,
    model: modelWords(model),
    factors: FACTORS.map(({ key, label }) => ({
      key,
      label,
      delivered: model.levels.find((level) => level.factor === key && level.isBaseline)?.label,
      levels: model.levels
        .filter((level) => level.factor === key && !level.isBaseline && level.hiddenAt === null)
        .map((level) => ({ id: level.id, label: level.label })),
    })),
  };
}
