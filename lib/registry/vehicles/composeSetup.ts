import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { FACTORS, type FactorKey } from '@/lib/domain/factors';
import type { Actor } from '@/lib/domain/roles';
import { parseInput } from '../parseInput';
import type { Registry } from '../registry';
import { addFactorLevel } from './addFactorLevel';
import { addSetup } from './addSetup';

const factorKeys = FACTORS.map((factor) => factor.key) as [FactorKey, ...FactorKey[]];

export const composeSetupSchema = z.object({
  modelId: z.uuid('No model chosen. | A setup is a configuration of one model. | Choose the model.'),
  /** One entry a factor: a level that exists, or the name of a new one. */
  choices: z
    .array(
      z.object({
        factor: z.enum(factorKeys),
        levelId: z.uuid().optional(),
        newLabel: z.string().trim().max(80).optional(),
        tyreKind: z.enum(['road', 'allTerrain']).optional(),
      }),
    )
    .max(FACTORS.length),
});

/**
 * The setup made of these choices, with the levels that are new added to the model first. Each step finds what is
 * there already, so that doing it again changes nothing.
 */
export async function composeSetup(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ setupId: string; slug: string }> {
  authorise(actor, 'addModel');
  const { modelId, choices } = parseInput(composeSetupSchema, input);
  const levelIds: string[] = [];
  for (const { factor, levelId, newLabel, tyreKind } of choices) {
    if (newLabel) {
      const added = await addFactorLevel(registry, actor, { modelId, factor, label: newLabel, tyreKind });
      levelIds.push(added.levelId);
    } else if (levelId !== undefined) {
      levelIds.push(levelId);
    }
  }
  return addSetup(registry, actor, { modelId, levelIds });
}
