import type { Queryable } from './database';
import { movePlanned, moveSessions, moveTyped } from './merging';

/** A loop that was found to be another, and what moves there. */

export function loopToMerge(db: Queryable, by: { slug: string } | { id: string }) {
  return db.loop.findUnique({
    where: { ...by, mergedIntoId: null },
    select: {
      id: true,
      slug: true,
      name: true,
      world: true,
      lengthM: true,
      lengthUncertaintyM: true,
      postedLimitMps: true,
      hiddenAt: true,
    },
  });
}

export type LoopToMerge = NonNullable<Awaited<ReturnType<typeof loopToMerge>>>;

/**
 * Moves sessions, runs, drafts and studies. Revisions and their snapshots stay as they are: they name the loop that was
 * driven by the values that it had.
 */
export async function moveToLoop(tx: Queryable, fromId: string, toId: string): Promise<void> {
  await moveSessions(tx, 'loop', fromId, toId);
  await tx.run.updateMany({ where: { loopId: fromId }, data: { loopId: toId } });
  await moveTyped(tx, 'loopId', fromId, toId);
  await tx.study.updateMany({ where: { loopId: fromId }, data: { loopId: toId } });
  await movePlanned(tx, fromId, toId);
}

/** False where it was merged a moment ago. What was merged into it before leads to the other as well. */
export async function markMerged(tx: Queryable, fromId: string, toId: string): Promise<boolean> {
  const { count } = await tx.loop.updateMany({
    where: { id: fromId, mergedIntoId: null },
    data: { mergedIntoId: toId },
  });
  await tx.loop.updateMany({ where: { mergedIntoId: fromId }, data: { mergedIntoId: toId } });
  return count === 1;
}
