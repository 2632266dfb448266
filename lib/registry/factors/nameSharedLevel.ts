import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, InvalidInput, NotFound } from '@/lib/run/errors';
import { FACTORS, type FactorKey } from '@/lib/run/factors';
import { nameField } from '@/lib/run/names/publicName';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { nameKey } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { worldSchema } from '@/lib/run/worldSchema';
import { appendAudit } from '@/lib/store/audit';
import { isExclusionViolation, isUniqueViolation } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import { lockNames } from '@/lib/store/nameKeys';
import {
  countSharedLevels,
  holdBaseline,
  insertSharedLevel,
  MOST_SHARED_LEVELS,
  moveBaseline,
  sharedLevelById,
} from '@/lib/store/sharedLevels';
import { claimName } from '../names/claimName';
import type { Registry } from '../registry';
import { FACTORS_JOB } from './concludeFactors';

const factorKeys = FACTORS.map(({ key }) => key) as [FactorKey, ...FactorKey[]];

export const sharedLevelWords = nameField({
  least: 1,
  most: 60,
  tooShort:
    'The level has no name. | It is what readers see beside all models. | Enter it, for example “Low”.',
  tooLong: 'The name is too long. | It stands in headings and figures. | Use at most 60 characters.',
});

const nameSchema = z.object({ world: worldSchema, factor: z.enum(factorKeys), words: sharedLevelWords });

export const TAKEN = {
  path: 'words',
  what: 'There is a shared level of this name.',
  why: 'Two of one name could not be told apart.',
  fix: 'Map to the one that is there, or choose another name.',
};

/** Names a level that several models share. The first of a factor is the one that the others are held against. */
export async function nameSharedLevel(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ sharedLevelId: string }> {
  authorise(actor, 'mapLevels');
  const { world, factor, words } = parseInput(nameSchema, input);
  authorise(actor, 'mapLevels', undefined, world);
  try {
    return await registry.db.$transaction(async (tx) => {
      // Before the row: two first levels that wait for each other's at their ends would both be ended by the database.
      await lockNames(tx, 'sharedLevel');
      const at = registry.now();
      if ((await countSharedLevels(tx, { world, factor })) >= MOST_SHARED_LEVELS)
        throw new Conflict(`A factor has at most ${MOST_SHARED_LEVELS} shared levels.`);
      const isBaseline = (await holdBaseline(tx, { world, factor })) === null;
      const { id } = await insertSharedLevel(tx, {
        world,
        factor,
        key: nameKey(words),
        words,
        isBaseline,
        createdAt: at,
      });
      await claimName(
        tx,
        { kind: 'sharedLevel', scope: `${world} ${factor}`, thingId: id, name: words },
        'words',
      );
      await appendAudit(tx, {
        at,
        actorId: actor.accountId,
        action: 'factor.nameLevel',
        subjectKind: 'sharedLevel',
        subjectId: id,
        details: { world, factor, words, isBaseline },
      });
      return { sharedLevelId: id };
    });
  } catch (error) {
    if (isUniqueViolation(error)) throw new InvalidInput([TAKEN]);
    if (isExclusionViolation(error))
      throw new Conflict(
        'Another steward named the first level of this factor a moment ago. Look at it first.',
      );
    throw error;
  }
}

const baselineSchema = z.object({
  /** The one that the others were held against when the steward looked. */
  seenId: z.uuid(),
  sharedLevelId: z.uuid(),
});

/** Holds the other levels of a factor against another one from now on. */
export async function chooseBaselineLevel(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'mapLevels');
  const { seenId, sharedLevelId } = parseInput(baselineSchema, input);
  await registry.db.$transaction(async (tx) => {
    const [seen, chosen] = [await sharedLevelById(tx, seenId), await sharedLevelById(tx, sharedLevelId)];
    if (seen === null || chosen === null) throw new NotFound('This shared level does not exist.');
    const world = worldKey(chosen.world);
    authorise(actor, 'mapLevels', undefined, world);
    if (seen.world !== chosen.world || seen.factor !== chosen.factor)
      throw new Conflict('The levels of a factor are held against one of their own factor and world.');
    if (!(await moveBaseline(tx, seenId, sharedLevelId)))
      throw new Conflict('Another steward chose a moment ago. Look at it first.');
    const at = registry.now();
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'factor.chooseBaseline',
      subjectKind: 'sharedLevel',
      subjectId: sharedLevelId,
      details: { world, factor: chosen.factor, from: seen.words, to: chosen.words },
    });
    await enqueueJob(tx, FACTORS_JOB, world, at);
  });
}
