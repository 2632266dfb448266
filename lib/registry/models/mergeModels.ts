import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { type PlacedSetup, placeSetups } from '@/lib/reduction/merging/placeSetups';
import { levelInOther, refusalOfModels } from '@/lib/reduction/merging/refusals';
import { Conflict, NotFound } from '@/lib/run/errors';
import { modelWords } from '@/lib/run/modelWords';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { lockSubject } from '@/lib/store/correctedSubjects';
import { isUniqueViolation, type Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import {
  hangingOnModel,
  type LevelToMerge,
  type ModelToMerge,
  markLevelMerged,
  markModelMerged,
  modelToMerge,
  moveLevelToModel,
  moveRequestedLevel,
  moveSetups,
  moveToModel,
  takeSharedLevel,
} from '@/lib/store/mergedModels';
import { hangingRuns } from '@/lib/store/merging';
import { dropNameKeys } from '@/lib/store/nameKeys';
import { FACTORS_JOB } from '../factors/concludeFactors';
import { keepName } from '../names/claimName';
import { followMoved, holdMoving, type MergePreview, PATIENT, previewRuns } from '../names/merging';
import { curationReason } from '../names/rename';
import type { Registry } from '../registry';
import { commonRefusal, runsOf, setupsInWords } from './mergeLevels';

const mergeSchema = z.object({ key: z.string(), intoKey: z.string(), reason: curationReason });

/** What would move from one model to another, and what keeps it from being done. */
export async function previewModelMerge(
  registry: Registry,
  actor: Actor | undefined,
  { key, intoKey }: { key: string; intoKey: string },
): Promise<MergePreview> {
  authorise(actor, 'curateNames');
  const of = await bothModels(registry.db, key, intoKey);
  const [hanging, beside, refusal] = await Promise.all([
    previewRuns(registry.db, runsOf(of.placed)),
    hangingOnModel(registry.db, of.from.id),
    refusalOf(registry.db, of),
  ]);
  return {
    ...hanging,
    ...beside,
    from: { key: of.from.slug, words: modelWords(of.from) },
    into: { key: of.into.slug, words: modelWords(of.into) },
    levels: {
      joined: of.levels.flatMap(({ level, same }) => (same === undefined ? [] : [level.label])),
      moved: of.levels.flatMap(({ level, same }) => (same === undefined ? [level.label] : [])),
    },
    setups: setupsInWords(of.placed),
    refusal,
  };
}

/**
 * Two entries of one model become one: cars, levels, setups, studies and requests move, setups of the same levels become
 * one, and its address leads to the other. No number of a run moves: data sheets that differ in what runs were computed
 * from are refused.
 */
export async function mergeModels(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ slug: string }> {
  authorise(actor, 'curateNames');
  requireFresh(actor, registry.now());
  const { key, intoKey, reason } = parseInput(mergeSchema, input);
  try {
    return await registry.db.$transaction(async (tx) => {
      const seen = await bothModels(tx, key, intoKey);
      for (const id of [seen.from.id, seen.into.id].sort()) await lockSubject(tx, 'model', id);
      const of = await bothModels(tx, key, intoKey);
      const { from, into, placed } = of;
      authorise(actor, 'curateNames', undefined, worldKey(from.world));
      const refusal = await refusalOf(tx, of);
      if (refusal !== undefined) throw new Conflict(refusal);
      const moving = await holdMoving(tx, runsOf(placed));
      const at = registry.now();
      const why = `Merged into ${modelWords(into)}. ${reason}`;
      if (!(await markModelMerged(tx, { fromId: from.id, toId: into.id, reason: why, at })))
        throw new Conflict('It was merged a moment ago.');
      await moveLevels(tx, of, why, at);
      await moveSetups(tx, into.id, placed);
      await moveToModel(tx, from.id, into.id);
      await followMoved(tx, moving, at, into.id);
      await enqueueJob(tx, FACTORS_JOB, worldKey(into.world), at);
      await dropNameKeys(tx, from.id);
      await appendAudit(tx, {
        at,
        actorId: actor.accountId,
        action: 'model.merge',
        subjectKind: 'model',
        subjectId: from.id,
        details: {
          into: modelWords(into),
          address: { before: from.slug, after: into.slug },
          setups: placed.length,
          runs: moving.runIds.length,
          reason,
        },
      });
      return { slug: into.slug };
    }, PATIENT);
  } catch (error) {
    if (!isUniqueViolation(error)) throw error;
    throw new Conflict('Two open requests would ask for the same of one model. Hide one of them first.');
  }
}

interface Models {
  from: ModelToMerge;
  into: ModelToMerge;
  /** Each level of the one that goes, with the one that it is of the one that stays. */
  levels: { level: LevelToMerge; same: LevelToMerge | undefined }[];
  placed: PlacedSetup[];
}

async function bothModels(db: Queryable, key: string, intoKey: string): Promise<Models> {
  const [from, into] = await Promise.all(
    [key, intoKey].map((slug) => (isSlug(slug) ? modelToMerge(db, { slug }) : null)),
  );
  if (!from || !into) throw new NotFound('One of the two models does not exist, or was merged before.');
  const levels = from.levels
    .filter(({ mergedIntoId }) => mergedIntoId === null)
    .map((level) => ({ level, same: levelInOther(level, into.levels) }));
  const now = new Map(levels.map(({ level, same }) => [level.id, same ?? level]));
  const placed = placeSetups(
    from.setups,
    // a setup that stands on its own names levels that do
    (levelId) => now.get(levelId) as LevelToMerge,
    new Map(into.setups.map(({ levelsKey, id }) => [levelsKey, id])),
  );
  return { from, into, levels, placed };
}

async function refusalOf(db: Queryable, { from, into, placed }: Models): Promise<string | undefined> {
  const { runs } = await hangingRuns(db, runsOf(placed));
  return refusalOfModels(from, into, runs) ?? commonRefusal(db, [from, into], placed);
}

async function moveLevels(
  tx: Queryable,
  { from, into, levels }: Models,
  why: string,
  at: Date,
): Promise<void> {
  for (const { level, same } of levels) {
    await dropNameKeys(tx, level.id);
    if (same === undefined) {
      await moveLevelToModel(tx, level.id, into.id);
      const scope = `${into.id} ${level.factor}`;
      await keepName(tx, { kind: 'level', scope, thingId: level.id, name: level.label });
      continue;
    }
    await markLevelMerged(tx, { fromId: level.id, toId: same.id, reason: why, at });
    if (level.sharedLevelId !== null) await takeSharedLevel(tx, same.id, level.sharedLevelId);
    if (level.key !== same.key)
      await moveRequestedLevel(tx, {
        modelId: from.id,
        factor: level.factor,
        from: level.key,
        to: same.key,
      });
  }
}
