import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { type InputIssue, InvalidInput } from '@/lib/run/errors';
import { FACTORS, type FactorKey, factorLabel } from '@/lib/run/factors';
import { valuesOf } from '@/lib/run/namedValues';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { TYRE_KINDS } from '@/lib/run/tyreKind';
import { hasBaselineLevel } from '@/lib/store/models';
import type { Registry } from '../registry';
import { addFactorLevel } from './addFactorLevel';
import { addSetup } from './addSetup';

const factorKeys = FACTORS.map((factor) => factor.key) as [FactorKey, ...FactorKey[]];

export const composeSetupSchema = z.object({
  modelId: z.uuid('No model chosen. | A setup is a configuration of one model. | Choose the model.'),
  /** One entry a factor: a level that exists, or the name of a new one. The first ever names the delivered one too. */
  choices: z
    .array(
      z.object({
        factor: z.enum(factorKeys),
        levelId: z.uuid().optional(),
        newLabel: z.string().trim().max(80).optional(),
        tyreKind: z.enum(valuesOf(TYRE_KINDS)).optional(),
        deliveredLabel: z.string().trim().max(80).optional(),
        deliveredTyreKind: z.enum(valuesOf(TYRE_KINDS)).optional(),
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
  await requireDeliveredLevels(registry, modelId, choices);
  const levelIds: string[] = [];
  for (const { factor, levelId, newLabel, tyreKind, deliveredLabel, deliveredTyreKind } of choices) {
    const add = (label: string, kind: typeof tyreKind) =>
      addFactorLevel(registry, actor, { modelId, factor, label, tyreKind: kind });
    if (newLabel) {
      if (deliveredLabel) await add(deliveredLabel, deliveredTyreKind);
      levelIds.push((await add(newLabel, tyreKind)).levelId);
    } else if (levelId !== undefined) {
      levelIds.push(levelId);
    }
  }
  return addSetup(registry, actor, { modelId, levelIds });
}

/** The first level of a factor counts as the delivered one, so it has to be named before another can be. */
async function requireDeliveredLevels(
  registry: Registry,
  modelId: string,
  choices: z.output<typeof composeSetupSchema>['choices'],
): Promise<void> {
  const issues: InputIssue[] = [];
  for (const { factor, newLabel, deliveredLabel } of choices) {
    if (!newLabel || deliveredLabel || (await hasBaselineLevel(registry.db, modelId, factor))) continue;
    issues.push({
      path: `delivered.${factor}`,
      what: `${factorLabel(factor)}: the level as delivered is missing.`,
      why: 'A setup is named by what differs from the car as delivered.',
      fix: 'Enter what this factor is on the car as it comes.',
    });
  }
  if (issues.length > 0) throw new InvalidInput(issues);
}
