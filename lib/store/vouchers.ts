import type { Queryable } from './database';

/** What stands behind an account; null where there is none. */
export function voucherOf(db: Queryable, id: string) {
  return db.account.findUnique({
    where: { id },
    select: { world: true, role: true, vouchedAt: true, emailVerifiedAt: true },
  });
}

/** False where somebody vouched already. */
export async function markVouchedFor(
  tx: Queryable,
  id: string,
  by: { vouchedAt: Date; vouchedById: string },
): Promise<boolean> {
  const { count } = await tx.account.updateMany({ where: { id, vouchedAt: null, erasedAt: null }, data: by });
  return count === 1;
}

/** The classes and worlds in which a tester's runs count. */
export async function groupsOfTester(db: Queryable, testerId: string) {
  const groups = await db.countedRun.groupBy({
    by: ['cruiseClassKey', 'world'],
    where: { testerId },
    orderBy: [{ world: 'asc' }, { cruiseClassKey: 'asc' }],
  });
  return groups.map(({ cruiseClassKey, world }) => ({ cruiseClassKey, world }));
}
