import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { refusalOfCars } from '@/lib/reduction/merging/refusals';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { lockSubject } from '@/lib/store/correctedSubjects';
import type { Queryable } from '@/lib/store/database';
import {
  type CarToMerge,
  carOfRun,
  carToMerge,
  markCarMerged,
  moveToCar,
  runsOfCar,
} from '@/lib/store/mergedCars';
import { hangingSessions } from '@/lib/store/merging';
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

/** What would move from one car to another; the one that stays is named by its id or by the number of a run with it. */
export async function previewCarMerge(
  registry: Registry,
  actor: Actor | undefined,
  { key, intoKey }: { key: string; intoKey: string },
): Promise<MergePreview> {
  authorise(actor, 'curateNames');
  const { from, into } = await bothCars(registry.db, key, intoKey);
  const [hanging, sessions, refusal] = await Promise.all([
    previewRuns(registry.db, { carId: from.id }),
    hangingSessions(registry.db, 'car', from.id, into.id),
    refusalOf(registry.db, from, into),
  ]);
  return {
    ...hanging,
    ...sessions,
    from: { key: from.id, words: from.name },
    into: { key: into.id, words: into.name },
    ...(from.ownerId === into.ownerId
      ? {}
      : { owners: [from.owner.displayName, into.owner.displayName] as const }),
    refusal,
  };
}

/**
 * Two entries of one vehicle become one, as the vehicle is what a fit groups runs by. Runs, sessions and counted rows
 * move; of one tester drafts and calibrations as well. Where the vehicle changed hands, each run stays with who drove it.
 * No number of a run moves.
 */
export async function mergeCars(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ carId: string }> {
  authorise(actor, 'curateNames');
  requireFresh(actor, registry.now());
  const { key, intoKey, reason } = parseInput(mergeSchema, input);
  return registry.db.$transaction(async (tx) => {
    const seen = await bothCars(tx, key, intoKey);
    for (const id of [seen.from.id, seen.into.id].sort()) await lockSubject(tx, 'car', id);
    const { from, into } = await bothCars(tx, seen.from.id, seen.into.id);
    authorise(actor, 'curateNames', undefined, worldKey(from.world));
    const refusal = await refusalOf(tx, from, into);
    if (refusal !== undefined) throw new Conflict(refusal);
    const moving = await holdMoving(tx, { carId: from.id });
    const at = registry.now();
    if (!(await markCarMerged(tx, from.id, into.id))) throw new Conflict('It was merged a moment ago.');
    const isOneOwner = from.ownerId === into.ownerId;
    await moveToCar(tx, { fromId: from.id, toId: into.id, isOneOwner });
    await followMoved(tx, moving, at);
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'car.merge',
      subjectKind: 'car',
      subjectId: from.id,
      details: { into: into.name, intoId: into.id, runs: moving.runIds.length, isOneOwner, reason },
    });
    return { carId: into.id };
  }, PATIENT);
}

async function bothCars(db: Queryable, key: string, intoKey: string) {
  const [from, into] = await Promise.all([key, intoKey].map((one) => carNamed(db, one)));
  if (!from || !into)
    throw new NotFound('One of the two cars does not exist, was merged before, or no run is known with it.');
  return { from, into };
}

async function carNamed(db: Queryable, key: string): Promise<CarToMerge | null> {
  const number = /^\d{1,9}$/.test(key) ? Number(key) : undefined;
  const id = number === undefined ? z.uuid().safeParse(key).data : await carOfRun(db, number);
  return id === undefined ? null : carToMerge(db, id);
}

async function refusalOf(db: Queryable, from: CarToMerge, into: CarToMerge): Promise<string | undefined> {
  return (
    refusalOfCars(from, into, await runsOfCar(db, from.id)) ??
    openCorrectionRefusal(
      db,
      [from, into].map(({ id, name }) => ({ id, words: name })),
    )
  );
}
