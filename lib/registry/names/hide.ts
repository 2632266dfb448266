import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import {
  type HideableKind,
  levelToCurate,
  loopToCurate,
  modelToCurate,
  setHidden,
} from '@/lib/store/curatedThings';
import type { Queryable } from '@/lib/store/database';
import { carToMerge } from '@/lib/store/mergedCars';
import type { Registry } from '../registry';
import { curationReason } from './rename';

const hideSchema = z.object({
  kind: z.enum(['loop', 'model', 'level', 'car']),
  /** Of its address; a level’s or a car’s id. */
  key: z.string().max(120),
  to: z.enum(['hidden', 'shown']),
  reason: curationReason,
});

/**
 * Takes a thing out of lists and choices, or puts it back. Its page stays, with a note that says why, and what was driven
 * of it or on it goes on counting.
 */
export async function setHiding(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  authorise(actor, 'curateNames');
  requireFresh(actor, registry.now());
  const { kind, key, to, reason } = parseInput(hideSchema, input);
  await registry.db.$transaction(async (tx) => {
    const found = await thingOf(tx, kind, key);
    if (found === undefined) throw new NotFound(`This ${kind} does not exist.`);
    authorise(actor, 'curateNames', undefined, worldKey(found.world));
    if (found.isDelivered && to === 'hidden')
      throw new Conflict('A car as delivered has this level: it cannot be hidden while the model is shown.');
    const at = registry.now();
    const hidden = to === 'hidden' ? { hiddenAt: at, hiddenReason: reason } : null;
    if (!(await setHidden(tx, kind, found.id, hidden))) throw new Conflict(`It is ${to} already.`);
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: to === 'hidden' ? 'name.hide' : 'name.show',
      subjectKind: kind === 'level' ? 'factorLevel' : kind,
      subjectId: found.id,
      details: { reason },
    });
  });
}

async function thingOf(tx: Queryable, kind: HideableKind, key: string) {
  if (kind === 'level') {
    const level = z.uuid().safeParse(key).success ? await levelToCurate(tx, key) : null;
    return level === null
      ? undefined
      : { id: level.id, world: level.model.world, isDelivered: level.isBaseline };
  }
  if (kind === 'car') {
    const car = z.uuid().safeParse(key).success ? await carToMerge(tx, key) : null;
    return car === null ? undefined : { id: car.id, world: car.world, isDelivered: false };
  }
  if (!isSlug(key)) return undefined;
  const thing = kind === 'loop' ? await loopToCurate(tx, key) : await modelToCurate(tx, key);
  return thing === null ? undefined : { id: thing.id, world: thing.world, isDelivered: false };
}
