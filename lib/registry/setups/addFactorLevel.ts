import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { NotFound } from '@/lib/run/errors';
import { FACTORS, type FactorKey } from '@/lib/run/factors';
import { valuesOf } from '@/lib/run/namedValues';
import { nameField } from '@/lib/run/names/publicName';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { nameKey } from '@/lib/run/slug';
import { TYRE_KINDS, USUAL_TYRE_KIND } from '@/lib/run/tyreKind';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import { hasBaselineLevel, insertLevel, levelsNamed, modelById } from '@/lib/store/models';
import { claimName } from '../names/claimName';
import type { Registry } from '../registry';

const factorKeys = FACTORS.map((factor) => factor.key) as [FactorKey, ...FactorKey[]];

export const addFactorLevelSchema = z.object({
  modelId: z.uuid(),
  factor: z.enum(factorKeys),
  label: nameField({
    least: 1,
    most: 80,
    tooShort:
      'The level has no name. | It is what the setting is called in this car. | Enter it, for example “low”.',
    tooLong: 'The name is too long. | It is shown in tables. | Use at most 80 characters.',
  }),
  tyreKind: z.enum(valuesOf(TYRE_KINDS)).optional(),
});

/**
 * Adds a level of a factor to a model, or returns the one that is there under the same name. The first level of a
 * factor is the one the car was delivered with.
 */
export async function addFactorLevel(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ levelId: string }> {
  authorise(actor, 'addModel');
  const level = parseInput(addFactorLevelSchema, input);
  try {
    return await findOrAdd(registry, actor, level);
  } catch (error) {
    if (!isUniqueViolation(error)) throw error;
    // Sent twice at once, the other request made it: now it is found.
    return findOrAdd(registry, actor, level);
  }
}

function findOrAdd(
  registry: Registry,
  actor: Actor,
  level: z.output<typeof addFactorLevelSchema>,
): Promise<{ levelId: string }> {
  const key = nameKey(level.label);
  return registry.db.$transaction(async (tx) => {
    const model = await modelById(tx, level.modelId);
    if (model === null) throw new NotFound('This model does not exist.');
    authorise(actor, 'addModel', undefined, worldKey(model.world));
    const named = await levelsNamed(tx, { ...level, key });
    const known = named.find(({ label }) => nameKey(label) === key);
    if (known !== undefined) return { levelId: known.id };
    const inserted = await insertLevel(tx, {
      modelId: level.modelId,
      factor: level.factor,
      // one from before signs were kept may have it
      key: named.length === 0 ? key : `${key}-2`,
      label: level.label,
      isBaseline: !(await hasBaselineLevel(tx, level.modelId, level.factor)),
      tyreKind: level.factor === 'wheelTyre' ? (level.tyreKind ?? USUAL_TYRE_KIND) : null,
    });
    const scope = `${level.modelId} ${level.factor}`;
    await claimName(tx, { kind: 'level', scope, thingId: inserted.id, name: level.label }, 'label');
    await appendAudit(tx, {
      at: registry.now(),
      actorId: actor.accountId,
      action: 'model.addLevel',
      subjectKind: 'model',
      subjectId: level.modelId,
      details: { factor: level.factor, level: level.label },
    });
    return { levelId: inserted.id };
  });
}
