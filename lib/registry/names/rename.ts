import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { Conflict, NotFound } from '@/lib/run/errors';
import { modelWords } from '@/lib/run/modelWords';
import { nameField } from '@/lib/run/names/publicName';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { setupTitle } from '@/lib/run/setupTitle';
import { freeSlug } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { lockSubject } from '@/lib/store/correctedSubjects';
import {
  levelToCurate,
  loopToCurate,
  modelToCurate,
  renameCarRow,
  renameLevelRow,
  renameLoopRow,
  renameModelRow,
  retitleSetup,
  setupsWithLevel,
} from '@/lib/store/curatedThings';
import { isUniqueViolation, type Queryable } from '@/lib/store/database';
import { isLoopSlugTaken } from '@/lib/store/loops';
import { carToMerge } from '@/lib/store/mergedCars';
import { isModelSlugTaken } from '@/lib/store/models';
import { dropNameKeys, type Named } from '@/lib/store/nameKeys';
import { type AddressedKind, dropPastAddress, keepPastAddress } from '@/lib/store/pastAddresses';
import type { Registry } from '../registry';
import { claimName } from './claimName';

const NAMED = {
  least: 1,
  most: 80,
  tooShort: 'The name is missing. | It stands in tables. | Enter it.',
  tooLong: 'The name is too long. | It stands in tables. | Use at most 80 characters.',
};
export const curationReason = z
  .string()
  .trim()
  .min(10, 'The reason is too short. | It stands in the log. | Say what was wrong with it.')
  .max(500);

const renameSchema = z.object({
  slug: z.string().max(120),
  seenName: z.string(),
  name: nameField({ ...NAMED, least: 2 }),
  reason: curationReason,
});
const renameModelSchema = renameSchema.extend({
  name: nameField(NAMED),
  variant: nameField({ ...NAMED, least: 0 }).default(''),
});
const renameLevelSchema = z.object({
  levelId: z.uuid(),
  seenName: z.string(),
  name: nameField(NAMED),
  reason: curationReason,
});

/** The address that it has now. */
export interface Renamed {
  slug: string;
}

/**
 * Calls a loop something else. No number moves: runs, counted rows and fits name it by its id, and snapshots keep the
 * name that it had. Its old address leads to the new one for good, and its old name is still found.
 */
export async function renameLoop(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Renamed> {
  const { slug, seenName, name, reason } = requireSteward(registry, actor, renameSchema, input);
  return registry.db.$transaction(async (tx) => {
    const found = await loopToCurate(tx, slug);
    if (found === null) throw gone('loop');
    authorise(actor, 'curateNames', undefined, worldKey(found.world));
    await lockSubject(tx, 'loop', found.id);
    if (name === seenName && name === found.name) return { slug };
    const next = await freeSlug(name, (one) => isLoopSlugTaken(tx, one, found.id));
    const at = registry.now();
    if (!(await renameLoopRow(tx, found.id, { name: seenName, slug }, { name, slug: next })))
      throw overtaken();
    await moveAddress(tx, { kind: 'loop', id: found.id, from: slug, to: next, name: seenName, at });
    await retakeName(tx, { kind: 'loop', scope: found.world, thingId: found.id, name });
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'loop.rename',
      subjectKind: 'loop',
      subjectId: found.id,
      details: { name: { before: seenName, after: name }, address: { before: slug, after: next }, reason },
    });
    return { slug: next };
  });
}

/** The same of a model: its name and its variant. Its setups keep their addresses. */
export async function renameModel(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Renamed> {
  const { slug, seenName, name, variant, reason } = requireSteward(registry, actor, renameModelSchema, input);
  try {
    return await registry.db.$transaction(async (tx) => {
      const found = await modelToCurate(tx, slug);
      if (found === null) throw gone('model');
      authorise(actor, 'curateNames', undefined, worldKey(found.world));
      await lockSubject(tx, 'model', found.id);
      const before = modelWords(found);
      const after = modelWords({ ...found, name, variant });
      if (seenName !== before) throw overtaken();
      if (before === after) return { slug };
      const next = await freeSlug(after, (one) => isModelSlugTaken(tx, one, found.id));
      const at = registry.now();
      const from = { name: found.name, variant: found.variant, slug };
      if (!(await renameModelRow(tx, found.id, from, { name, variant, slug: next }))) throw overtaken();
      await moveAddress(tx, { kind: 'model', id: found.id, from: slug, to: next, name: before, at });
      const scope = `${found.makerId} ${found.world}`;
      await retakeName(tx, { kind: 'model', scope, thingId: found.id, name });
      await appendAudit(tx, {
        at,
        actorId: actor.accountId,
        action: 'model.rename',
        subjectKind: 'model',
        subjectId: found.id,
        details: { name: { before, after }, address: { before: slug, after: next }, reason },
      });
      return { slug: next };
    });
  } catch (error) {
    if (!isUniqueViolation(error)) throw error;
    throw new Conflict('This maker has a model of this name, year and variant already.');
  }
}

/** What somebody calls a car, where others should not have to read it. It has no address. */
export async function renameCar(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Renamed> {
  const { slug: carId, seenName, name, reason } = requireSteward(registry, actor, renameSchema, input);
  try {
    return await registry.db.$transaction(async (tx) => {
      const found = z.uuid().safeParse(carId).success ? await carToMerge(tx, carId) : null;
      if (found === null) throw gone('car');
      authorise(actor, 'curateNames', undefined, worldKey(found.world));
      if (name === seenName && name === found.name) return { slug: carId };
      if (!(await renameCarRow(tx, carId, seenName, name))) throw overtaken();
      await appendAudit(tx, {
        at: registry.now(),
        actorId: actor.accountId,
        action: 'car.rename',
        subjectKind: 'car',
        subjectId: carId,
        details: { name: { before: seenName, after: name }, reason },
      });
      return { slug: carId };
    });
  } catch (error) {
    if (!isUniqueViolation(error)) throw error;
    throw new Conflict('Its owner has another car of this name already.');
  }
}

/** A level of a model: the titles of its setups say the new name; its key, by which levels are told apart, stays. */
export async function renameLevel(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { levelId, seenName, name, reason } = requireSteward(registry, actor, renameLevelSchema, input);
  await registry.db.$transaction(async (tx) => {
    const found = await levelToCurate(tx, levelId);
    if (found === null) throw gone('level');
    authorise(actor, 'curateNames', undefined, worldKey(found.model.world));
    await lockSubject(tx, 'model', found.modelId);
    if (name === seenName && name === found.label) return;
    if (!(await renameLevelRow(tx, levelId, seenName, name))) throw overtaken();
    const scope = `${found.modelId} ${found.factor}`;
    await retakeName(tx, { kind: 'level', scope, thingId: levelId, name });
    for (const { id, levels } of await setupsWithLevel(tx, levelId))
      await retitleSetup(
        tx,
        id,
        setupTitle(levels.map(({ level }) => level).filter(({ isBaseline }) => !isBaseline)),
      );
    await appendAudit(tx, {
      at: registry.now(),
      actorId: actor.accountId,
      action: 'model.renameLevel',
      subjectKind: 'factorLevel',
      subjectId: levelId,
      details: { name: { before: seenName, after: name }, reason },
    });
  });
}

function requireSteward<Schema extends z.ZodType>(
  registry: Registry,
  actor: Actor | undefined,
  schema: Schema,
  input: unknown,
): z.output<Schema> {
  authorise(actor, 'curateNames');
  requireFresh(actor, registry.now());
  return parseInput(schema, input);
}

interface Move {
  kind: AddressedKind;
  id: string;
  from: string;
  to: string;
  /** What it was called there. */
  name: string;
  at: Date;
}

/** Its old address leads to the new one; one that it had before is its own again. */
async function moveAddress(tx: Queryable, { kind, id, from, to, name, at }: Move): Promise<void> {
  await dropPastAddress(tx, kind, to);
  if (from !== to) await keepPastAddress(tx, { kind, slug: from, thingId: id, name, until: at });
}

async function retakeName(tx: Queryable, named: Named): Promise<void> {
  await dropNameKeys(tx, named.thingId);
  await claimName(tx, named, 'name');
}

function gone(kind: string): NotFound {
  return new NotFound(`This ${kind} does not exist.`);
}

function overtaken(): Conflict {
  return new Conflict('Another steward changed it a moment ago. Look at it first.');
}
