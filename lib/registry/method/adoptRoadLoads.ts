import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { Conflict } from '@/lib/run/errors';
import { methodLabel } from '@/lib/run/methodVersion';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldSchema } from '@/lib/run/worldSchema';
import { appendAudit } from '@/lib/store/audit';
import { enqueueJob } from '@/lib/store/jobs';
import {
  currentMethodVersion,
  lastOrdinal,
  lockMethodVersion,
  publishMethodVersion,
} from '@/lib/store/methodVersions';
import type { Registry } from '../registry';
import { RENORMALISE_JOB } from '../runs/renormaliseAll';
import { candidatesOf } from './adoptable';

const adoptSchema = z.object({
  world: worldSchema,
  /** The version that was in effect when the steward looked; null for the engine alone. */
  seenVersionId: z.uuid().nullable(),
  /** What the steward was shown and adopts: nothing else is. */
  learnedIds: z
    .array(z.uuid())
    .min(1, 'Nothing to adopt. | No model’s runs beat its priors. | Wait for more runs.'),
  summary: z
    .string()
    .trim()
    .min(
      10,
      'The reason is missing. | Every number of this world moves, and readers are told why. | Say in a sentence why now.',
    )
    .max(1000, 'The reason is too long. | It is shown on the method’s page. | Use at most 1000 characters.'),
});

export interface Adoption {
  label: string;
  models: number;
}

/**
 * Adopts what the models of one world have learned of their road load where it beats the
 * priors in predicting whole cars (method A7). It is a new version of the method: all revisions of that world are
 * recomputed under its label and all conclusions drawn anew; results of earlier versions stay readable. Models that do
 * not beat their priors keep the priors.
 */
export async function adoptRoadLoads(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Adoption> {
  const { world, seenVersionId, learnedIds, summary } = parseInput(adoptSchema, input);
  authorise(actor, 'adoptRoadLoads', undefined, world);
  requireFresh(actor, registry.now());
  return registry.db.$transaction(async (tx) => {
    await lockMethodVersion(tx);
    const current = await currentMethodVersion(tx, world);
    if ((current?.id ?? null) !== seenVersionId)
      throw new Conflict('Another version was adopted a moment ago. Look at it first.');
    const adoptable = (await candidatesOf(tx, world)).filter(({ refusal }) => refusal === null);
    const ids = new Set(adoptable.map(({ learnedId }) => learnedId));
    if (ids.size !== new Set(learnedIds).size || !learnedIds.every((id) => ids.has(id)))
      throw new Conflict('What the runs say has changed since you looked. Look again before you adopt it.');
    const ordinal = (await lastOrdinal(tx, world)) + 1;
    const label = methodLabel(METHOD_VERSION, { ordinal, world });
    const at = registry.now();
    const id = await publishMethodVersion(tx, {
      label,
      engine: METHOD_VERSION,
      world,
      ordinal,
      adoptedAt: at,
      adoptedById: actor.accountId,
      summary,
      roadLoads: adoptable.map(({ model, learnedId, runs, gainPerRun, road, levels }) => ({
        modelId: model.id,
        learnedRoadLoadId: learnedId,
        runCount: runs,
        gainPerRun,
        posterior: road.posterior,
        levels,
      })),
    });
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'method.adopt',
      subjectKind: 'methodVersion',
      subjectId: id,
      details: { label, world, models: adoptable.map(({ model }) => model.slug), summary },
    });
    await enqueueJob(tx, RENORMALISE_JOB, label, at);
    return { label, models: adoptable.length };
  });
}
