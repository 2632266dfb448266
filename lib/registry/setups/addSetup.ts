import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { InvalidInput, NotFound } from '@/lib/run/errors';
import { levelsKey } from '@/lib/run/factors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { setupTitle } from '@/lib/run/setupTitle';
import { freeSlug } from '@/lib/run/slug';
import { joinedWorld, worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation, type Queryable } from '@/lib/store/database';
import { levelsByIds, modelById } from '@/lib/store/models';
import { insertSetup, isSetupSlugTaken, nameLevels, setupByLevels } from '@/lib/store/setups';
import type { Registry } from '../registry';

export const addSetupSchema = z.object({ modelId: z.uuid(), levelIds: z.array(z.uuid()).max(20) });

/**
 * The setup of a model that consists of these factor levels: made when it is new, found when it is not.
 * Levels as delivered do not tell setups apart: naming one and leaving it out mean the same configuration.
 */
export async function addSetup(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ setupId: string; slug: string }> {
  authorise(actor, 'addModel');
  const setup = parseInput(addSetupSchema, input);
  try {
    return await findOrAdd(registry, actor, setup);
  } catch (error) {
    if (!isUniqueViolation(error)) throw error;
    // Sent twice at once, the other request made it: now it is found.
    return findOrAdd(registry, actor, setup);
  }
}

function findOrAdd(
  registry: Registry,
  actor: Actor,
  { modelId, levelIds }: z.output<typeof addSetupSchema>,
): Promise<{ setupId: string; slug: string }> {
  return registry.db.$transaction(async (tx) => {
    const model = await modelById(tx, modelId);
    if (model === null) throw new NotFound('This model does not exist.');
    authorise(actor, 'addModel', undefined, worldKey(model.world));
    const levels = await levelsByIds(tx, levelIds);
    requireOneLevelPerFactor(levels, levelIds, modelId);
    const changed = levels.filter((level) => !level.isBaseline);
    const key = levelsKey(changed);
    const known = await setupByLevels(tx, modelId, key);
    if (known !== null) {
      await nameDelivered(tx, known.id, levels);
      return { setupId: known.id, slug: known.slug };
    }
    return makeSetup(tx, registry, { model, levels, actorId: actor.accountId });
  });
}

/** What is delivered may get its name only after the setup was made: then it is said of the setup as well. */
async function nameDelivered(tx: Queryable, setupId: string, levels: readonly SetupLevel[]): Promise<void> {
  const delivered = levels.filter((level) => level.isBaseline);
  if (delivered.length > 0) await nameLevels(tx, setupId, delivered.map(asNamed));
}

type SetupLevel = Awaited<ReturnType<typeof levelsByIds>>[number];

const asNamed = ({ factor, id }: SetupLevel) => ({ factor, levelId: id });

/** Makes the setup of these levels, which nobody has made before; of none, the model as delivered. */
export async function makeSetup(
  tx: Queryable,
  registry: Registry,
  {
    model,
    levels,
    actorId,
  }: {
    model: { id: string; slug: string; world: string };
    levels: readonly SetupLevel[];
    actorId: string;
  },
): Promise<{ setupId: string; slug: string }> {
  const changed = levels.filter((level) => !level.isBaseline);
  const [title, key] = [setupTitle(changed), levelsKey(changed)];
  const now = registry.now();
  const setup = await insertSetup(tx, {
    modelId: model.id,
    slug: await freeSlug(`${model.slug} ${title}`, (candidate) => isSetupSlugTaken(tx, candidate)),
    title,
    levelsKey: key,
    world: joinedWorld([registry.world, worldKey(model.world)]),
    createdAt: now,
    levels: levels.map(asNamed),
  });
  await appendAudit(tx, {
    at: now,
    actorId,
    action: 'setup.add',
    subjectKind: 'setup',
    subjectId: setup.id,
    details: { levels: key },
  });
  return { setupId: setup.id, slug: setup.slug };
}

function requireOneLevelPerFactor(
  levels: { id: string; factor: string; modelId: string }[],
  levelIds: string[],
  modelId: string,
): void {
  const issue = (what: string, why: string, fix: string) =>
    new InvalidInput([{ path: 'levelIds', what, why, fix }]);
  if (levels.length !== new Set(levelIds).size || levels.some((level) => level.modelId !== modelId)) {
    throw issue(
      'A level does not belong to this model.',
      'Each model has its own settings.',
      'Choose from the levels of this model.',
    );
  }
  const factors = levels.map((level) => level.factor);
  if (new Set(factors).size !== factors.length) {
    throw issue(
      'Two levels of one factor were chosen.',
      'A setup has each factor at one level.',
      'Leave one level of each factor.',
    );
  }
}
