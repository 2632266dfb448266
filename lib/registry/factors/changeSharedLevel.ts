import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, InvalidInput, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { nameKey } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { type AuditRecord, appendAudit } from '@/lib/store/audit';
import { isUniqueViolation, type Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import {
  countSharedLevels,
  holdSharedLevel,
  mappedTo,
  removeLevel,
  renameLevel,
  type SharedLevel,
} from '@/lib/store/sharedLevels';
import type { Registry } from '../registry';
import { FACTORS_JOB } from './concludeFactors';
import { sharedLevelWords, TAKEN } from './nameSharedLevel';

const renameSchema = z.object({
  sharedLevelId: z.uuid(),
  /** What it was called when the steward looked. */
  seenWords: z.string(),
  words: sharedLevelWords,
});

/** Calls a shared level something else on every page; what is mapped to it stays mapped. */
export async function renameSharedLevel(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'mapLevels');
  const { sharedLevelId, seenWords, words } = parseInput(renameSchema, input);
  try {
    await registry.db.$transaction(async (tx) => {
      const level = await held(tx, actor, sharedLevelId);
      const { world, factor } = level;
      if (level.words === words && seenWords === words) return;
      if (!(await renameLevel(tx, { id: sharedLevelId, from: seenWords, words, key: nameKey(words) })))
        throw new Conflict('Another steward renamed this level a moment ago. Look at it first.');
      await record(registry, tx, actor, level, 'factor.renameLevel', {
        world,
        factor,
        from: seenWords,
        to: words,
      });
    });
  } catch (error) {
    if (isUniqueViolation(error)) throw new InvalidInput([TAKEN]);
    throw error;
  }
}

const removeSchema = z.object({
  sharedLevelId: z.uuid(),
  /** How many levels were mapped to it when the steward looked: those are mapped to none then. */
  seenMapped: z.coerce.number().int().min(0),
});

/** Takes a shared level away. What was mapped to it is mapped to none and pools no more. */
export async function removeSharedLevel(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'mapLevels');
  const { sharedLevelId, seenMapped } = parseInput(removeSchema, input);
  await registry.db.$transaction(async (tx) => {
    const level = await held(tx, actor, sharedLevelId);
    const { world, factor, words, isBaseline } = level;
    if (isBaseline && (await countSharedLevels(tx, { world: worldKey(world), factor })) > 1)
      throw new Conflict('The others are held against this level. Hold them against another one first.');
    if ((await mappedTo(tx, sharedLevelId)) !== seenMapped)
      throw new Conflict('Another steward mapped to this level a moment ago. Look at it first.');
    const mapped = await removeLevel(tx, sharedLevelId);
    await record(registry, tx, actor, level, 'factor.removeLevel', { world, factor, words, mapped });
  });
}

async function held(tx: Queryable, actor: Actor, sharedLevelId: string): Promise<SharedLevel> {
  const level = await holdSharedLevel(tx, sharedLevelId, 'changed');
  if (level === null) throw new NotFound('This shared level does not exist.');
  authorise(actor, 'mapLevels', undefined, worldKey(level.world));
  return level;
}

/** In the log; and what follows of the levels is concluded anew. */
async function record(
  registry: Registry,
  tx: Queryable,
  actor: Actor,
  level: SharedLevel,
  action: string,
  details: NonNullable<AuditRecord['details']>,
): Promise<void> {
  const at = registry.now();
  await appendAudit(tx, {
    at,
    actorId: actor.accountId,
    action,
    subjectKind: 'sharedLevel',
    subjectId: level.id,
    details,
  });
  await enqueueJob(tx, FACTORS_JOB, worldKey(level.world), at);
}
