import type { OpenSuspension } from '@/lib/run/roles';
import type { Queryable } from './database';

/** What keeps an account from writing is a row: open until it is lifted, at most one an account. */

/** Of accounts, in a filter: no suspension is open. */
export const NOT_SUSPENDED = { none: { liftedAt: null } } as const;

export interface NewSuspension {
  accountId: string;
  reason: string;
  placedAt: Date;
  placedById: string;
}

/** False where one is open already; it stays as it is. */
export async function insertSuspension(tx: Queryable, suspension: NewSuspension): Promise<boolean> {
  const { count } = await tx.suspension.createMany({ data: suspension, skipDuplicates: true });
  return count === 1;
}

/** False where none is open. */
export async function closeSuspension(
  tx: Queryable,
  accountId: string,
  lifted: { liftedAt: Date; liftedById: string; liftReason: string },
): Promise<boolean> {
  const { count } = await tx.suspension.updateMany({ where: { accountId, liftedAt: null }, data: lifted });
  return count === 1;
}

/** False where the one that was placed then is lifted, or was appealed against before. */
export async function appealAgainst(
  tx: Queryable,
  accountId: string,
  { placedAt, ...said }: { placedAt: Date; appeal: string; appealedAt: Date },
): Promise<boolean> {
  const { count } = await tx.suspension.updateMany({
    where: { accountId, placedAt, liftedAt: null, appeal: null },
    data: said,
  });
  return count === 1;
}

export async function openSuspensionOf(
  db: Queryable,
  accountId: string,
): Promise<OpenSuspension | undefined> {
  const found = await db.suspension.findFirst({
    where: { accountId, liftedAt: null },
    select: { reason: true, placedAt: true, appeal: true },
  });
  return found === null
    ? undefined
    : { reason: found.reason, placedAt: found.placedAt, isAppealed: found.appeal !== null };
}
