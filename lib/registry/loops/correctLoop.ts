import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { changedColumns, isSameValue, type LoopDirections } from '@/lib/reduction/corrections/change';
import { NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { directionsOfLoop, LOOP_VALUES, lockSubject, loopToCorrect } from '@/lib/store/correctedSubjects';
import { type Proposed, propose } from '../corrections/propose';
import { correctionReason, oneAtATime } from '../corrections/reason';
import type { Registry } from '../registry';
import { addLoopSchema } from './addLoop';

/** All but its name; directions that are left out stay as they are. */
export const correctLoopSchema = addLoopSchema
  .omit({ name: true, outline: true, elevationProfile: true, bearings: true, legs: true })
  .extend({
    slug: z.string().max(200),
    reason: correctionReason,
    directions: addLoopSchema.pick({ bearings: true, legs: true }).optional(),
  });

const VALUES = Object.keys(LOOP_VALUES) as (keyof typeof LOOP_VALUES)[];

/**
 * Puts right what was wrong of a loop. Runs of anybody may rest on it, so that it changes once a reviewer has approved the
 * correction with all of them; where none does, at once.
 */
export async function correctLoop(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Proposed> {
  const { slug, reason, directions, grossClimbM, ...values } = parseInput(correctLoopSchema, input);
  try {
    return await registry.db.$transaction(async (tx) => {
      const found = isSlug(slug) ? await loopToCorrect(tx, slug) : null;
      if (found === null) throw new NotFound('This loop does not exist.');
      authorise(actor, 'correctLoop', found.ownerId, worldKey(found.world));
      await lockSubject(tx, 'loop', found.id);
      const [before, standing] = [await loopToCorrect(tx, slug), await directionsOfLoop(tx, found.id)];
      if (before === null || standing === null) throw new NotFound('This loop does not exist.');
      const columns = changedColumns(before, { ...values, grossClimbM: grossClimbM ?? null }, VALUES);
      const turned = directions && inOrder(directions);
      const isTurned = turned !== undefined && !isSameWay(standing, turned);
      return propose(
        tx,
        {
          subjectId: found.id,
          world: worldKey(found.world),
          change: {
            kind: 'loop',
            columns,
            directions: isTurned ? { before: standing, after: turned } : null,
          },
          reason,
          byId: actor.accountId,
          act: {
            action: 'loop.correct',
            subjectKind: 'loop',
            details: { ...columns, ...(isTurned ? { directions: 'changed' } : {}) },
          },
        },
        registry.now(),
      );
    });
  } catch (error) {
    oneAtATime(error);
    throw error;
  }
}

/** What its form starts from; nothing for those who may not. */
export async function loopForCorrection(registry: Registry, actor: Actor | undefined, slug: string) {
  const loop = isSlug(slug) ? await loopToCorrect(registry.db, slug) : null;
  if (loop === null) throw new NotFound('This loop does not exist.');
  authorise(actor, 'correctLoop', loop.ownerId, worldKey(loop.world));
  return { ...loop, directions: await directionsOfLoop(registry.db, loop.id) };
}

/** Whether its page offers the form. */
export async function mayCorrectLoop(
  registry: Registry,
  actor: Actor | undefined,
  slug: string,
): Promise<boolean> {
  if (actor === undefined) return false;
  const loop = await loopToCorrect(registry.db, slug);
  return loop !== null && may(actor, 'correctLoop', loop.ownerId, worldKey(loop.world));
}

function inOrder({ bearings, legs }: LoopDirections): LoopDirections {
  return { bearings, legs: legs.toSorted((a, b) => a.direction.localeCompare(b.direction)) };
}

/** Shares come back from a form in per cent: to the digits that it shows they are the same. */
function isSameWay(a: LoopDirections, b: LoopDirections): boolean {
  const flat = ({ bearings, legs }: LoopDirections) => [
    ...bearings.flatMap(({ bearingDeg, share }) => [bearingDeg, share]),
    ...legs.flatMap((leg) => [
      leg.direction,
      leg.lengthM,
      leg.netClimbM,
      ...leg.bearings.flatMap(({ bearingDeg, share }) => [bearingDeg, share]),
    ]),
  ];
  const [left, right] = [flat(a), flat(b)];
  return left.length === right.length && left.every((value, i) => isSameValue(value, right[i] ?? null));
}
