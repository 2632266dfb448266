import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { type PlacedSetup, placeSetups } from '@/lib/reduction/merging/placeSetups';
import { refusalOfLevels } from '@/lib/reduction/merging/refusals';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { lockSubject } from '@/lib/store/correctedSubjects';
import type { Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import {
  adoptionOf,
  type LevelToMerge,
  type ModelToMerge,
  markLevelMerged,
  modelIdOfLevel,
  modelToMerge,
  moveRequestedLevel,
  moveSetups,
  openRequestBetween,
  studyOfBoth,
  takeSharedLevel,
} from '@/lib/store/mergedModels';
import { type Hanging, hangingRuns } from '@/lib/store/merging';
import { dropNameKeys } from '@/lib/store/nameKeys';
import { FACTORS_JOB } from '../factors/concludeFactors';
import {
  followMoved,
  holdMoving,
  type MergePreview,
  openCorrectionRefusal,
  PATIENT,
  previewRuns,
} from '../names/merging';
import { curationReason } from '../names/rename';
import type { Registry } from '../registry';

const mergeSchema = z.object({ key: z.string(), intoKey: z.string(), reason: curationReason });

/** What would become of the setups that name a level, and of their runs. */
export async function previewLevelMerge(
  registry: Registry,
  actor: Actor | undefined,
  { key, intoKey }: { key: string; intoKey: string },
): Promise<MergePreview> {
  authorise(actor, 'curateNames');
  const of = await bothLevels(registry.db, key, intoKey);
  const [hanging, refusal] = await Promise.all([
    previewRuns(registry.db, runsOf(of.placed)),
    refusalOf(registry.db, of),
  ]);
  return {
    ...hanging,
    from: { key: of.from.id, words: of.from.label },
    into: { key: of.into.id, words: of.into.label },
    setups: setupsInWords(of.placed),
    refusal,
  };
}

/**
 * Two names of one level become one. Setups that name it name the other; one that would then be the same as another
 * becomes that, with its runs. No number of a run moves.
 */
export async function mergeLevels(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ slug: string }> {
  authorise(actor, 'curateNames');
  requireFresh(actor, registry.now());
  const { key, intoKey, reason } = parseInput(mergeSchema, input);
  return registry.db.$transaction(async (tx) => {
    const seen = await bothLevels(tx, key, intoKey);
    await lockSubject(tx, 'model', seen.model.id);
    const of = await bothLevels(tx, key, intoKey);
    const { model, from, into, placed } = of;
    authorise(actor, 'curateNames', undefined, worldKey(model.world));
    const refusal = await refusalOf(tx, of);
    if (refusal !== undefined) throw new Conflict(refusal);
    const moving = await holdMoving(tx, runsOf(placed));
    const at = registry.now();
    const why = `Merged into “${into.label}”. ${reason}`;
    if (!(await markLevelMerged(tx, { fromId: from.id, toId: into.id, reason: why, at })))
      throw new Conflict('It was merged a moment ago.');
    if (from.sharedLevelId !== null) await takeSharedLevel(tx, into.id, from.sharedLevelId);
    await moveSetups(tx, model.id, placed);
    await moveRequestedLevel(tx, { modelId: model.id, factor: from.factor, from: from.key, to: into.key });
    await followMoved(tx, moving, at);
    await enqueueJob(tx, FACTORS_JOB, worldKey(model.world), at);
    await dropNameKeys(tx, from.id);
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'model.mergeLevels',
      subjectKind: 'factorLevel',
      subjectId: from.id,
      details: {
        into: into.label,
        intoId: into.id,
        setups: placed.length,
        runs: moving.runIds.length,
        reason,
      },
    });
    return { slug: model.slug };
  }, PATIENT);
}

export const runsOf = (placed: readonly PlacedSetup[]): Hanging => ({
  setupId: { in: placed.map(({ setupId }) => setupId) },
});

export function setupsInWords(placed: readonly PlacedSetup[]): { joined: string[]; moved: string[] } {
  const titles = (kind: PlacedSetup['kind']) =>
    placed.filter((one) => one.kind === kind).map(({ title }) => title);
  return { joined: titles('joins'), moved: titles('moves') };
}

interface Levels {
  model: ModelToMerge;
  from: LevelToMerge;
  into: LevelToMerge;
  placed: PlacedSetup[];
}

async function bothLevels(db: Queryable, key: string, intoKey: string): Promise<Levels> {
  const ids = [key, intoKey].map((one) => z.uuid().safeParse(one).data);
  const modelId = ids[0] === undefined ? undefined : await modelIdOfLevel(db, ids[0]);
  const model = modelId === undefined ? null : await modelToMerge(db, { id: modelId });
  const [from, into] = ids.map((id) =>
    model?.levels.find((level) => level.id === id && level.mergedIntoId === null),
  );
  if (model === null || from === undefined || into === undefined)
    throw new NotFound('One of the two levels does not exist, or was merged before.');
  const isOf = ({ levels }: ModelToMerge['setups'][number]) =>
    levels.some(({ levelId }) => levelId === from.id);
  const known = new Map(model.levels.map((level) => [level.id, level]));
  const placed = placeSetups(
    model.setups.filter(isOf),
    // a setup names levels of its own model only
    (levelId) => (levelId === from.id ? into : (known.get(levelId) as LevelToMerge)),
    new Map(model.setups.filter((setup) => !isOf(setup)).map(({ levelsKey, id }) => [levelsKey, id])),
  );
  return { model, from, into, placed };
}

async function refusalOf(db: Queryable, { model, from, into, placed }: Levels): Promise<string | undefined> {
  const { runs } = await hangingRuns(db, runsOf(placed));
  const refusal = refusalOfLevels(from, into, runs);
  if (refusal !== undefined) return refusal;
  const asked = await openRequestBetween(db, {
    modelId: model.id,
    factor: from.factor,
    keys: [from.key, into.key],
  });
  if (asked !== undefined)
    return `A request asks for the difference of the two: “${asked}” Hide or answer it first.`;
  return commonRefusal(db, [model], placed);
}

/** What stands against both merges of levels and of models. */
export async function commonRefusal(
  db: Queryable,
  models: readonly Pick<ModelToMerge, 'id' | 'name'>[],
  placed: readonly PlacedSetup[],
): Promise<string | undefined> {
  const joins = placed.flatMap((one) => (one.kind === 'joins' ? [one] : []));
  const study = await studyOfBoth(db, joins);
  if (study !== undefined)
    return `A study compares two setups that would become one: “${study}” They are two as long as it stands.`;
  const adopted = await adoptionOf(
    db,
    models.map(({ id }) => id),
  );
  if (adopted !== undefined)
    return `Version ${adopted} of the method computes runs with a learned road load of it. Adopt a version without that first.`;
  return openCorrectionRefusal(
    db,
    models.map(({ id, name }) => ({ id, words: name })),
  );
}
