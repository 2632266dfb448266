import { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { PERSON } from './names';

/** Holds are rows beside a run's state: a run does not count while one is open. */

/** By the registry itself where photos are those of another tester's run, or by a person who looks into something. */
export type HoldKind = 'sharedPictures' | 'looking';

export interface NewHold {
  runId: string;
  kind: HoldKind;
  reason: string;
  placedAt: Date;
  placedById: string | null;
}

/** False where one is open already; it stays as it is. */
export async function insertHold(tx: Queryable, hold: NewHold): Promise<boolean> {
  const { count } = await tx.hold.createMany({ data: hold, skipDuplicates: true });
  return count === 1;
}

/** Lifts the open one, of a kind if told; false where there is none. */
export async function closeHold(
  tx: Queryable,
  runId: string,
  lifted: { liftedAt: Date; liftedById: string | null; liftReason: string },
  kind?: HoldKind,
): Promise<boolean> {
  const { count } = await tx.hold.updateMany({
    where: { runId, liftedAt: null, ...(kind === undefined ? {} : { kind }) },
    data: lifted,
  });
  return count === 1;
}

/** Whether a hold of the kind was placed on the run at or after a time, open or not. */
export async function wasHeldSince(
  db: Queryable,
  { runId, kind, since }: { runId: string; kind: HoldKind; since: Date },
): Promise<boolean> {
  const where = { runId, kind, placedAt: { gte: since } };
  return (await db.hold.findFirst({ where, select: { id: true } })) !== null;
}

export async function isHeld(db: Queryable, runId: string): Promise<boolean> {
  return (await db.hold.findFirst({ where: { runId, liftedAt: null }, select: { id: true } })) !== null;
}

/** True in SQL where no hold on the run of this id is open. */
export function countsUnheld(runId: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`NOT EXISTS (
    SELECT 1 FROM "Hold" hold WHERE hold."runId" = ${runId} AND hold."liftedAt" IS NULL)`;
}

/** All that were ever placed on a run, oldest first. */
export const HOLDS_OF_RUN = {
  orderBy: { placedAt: 'asc' },
  select: {
    kind: true,
    reason: true,
    placedAt: true,
    placedBy: { select: PERSON },
    liftedAt: true,
    liftedBy: { select: PERSON },
    liftReason: true,
  },
} as const satisfies Prisma.Run$holdsArgs;
