import type { WorldKey } from '@/lib/run/world';
import type { Queryable } from './database';
import { MODEL_NAME } from './names';

/** More than anybody declares; a page shows them all. */
export const MOST_INTERESTS = 200;

export function openInterests(db: Queryable, accountId: string) {
  return db.declaredInterest.findMany({
    where: { accountId, endedAt: null },
    orderBy: { declaredAt: 'asc' },
    take: MOST_INTERESTS,
    select: { id: true, kind: true, subjectId: true, declaredAt: true },
  });
}

export async function insertInterest(
  tx: Queryable,
  interest: { accountId: string; kind: string; subjectId: string; declaredAt: Date },
): Promise<void> {
  await tx.declaredInterest.create({ data: interest, select: { id: true } });
}

/** What it was an interest in; null where it is not this account's, or was ended before. */
export async function endInterestOf(tx: Queryable, id: string, accountId: string, endedAt: Date) {
  const { count } = await tx.declaredInterest.updateMany({
    where: { id, accountId, endedAt: null },
    data: { endedAt },
  });
  if (count === 0) return null;
  return tx.declaredInterest.findUnique({ where: { id }, select: { kind: true, subjectId: true } });
}

/** One more than can be told apart is enough to say so. */
const FEW = 2;

/** Accounts, makers or models of that name or page; at most two. */
export async function interestSubjectsNamed(
  db: Queryable,
  {
    kind,
    name,
    slug,
    onlyWorld,
  }: {
    kind: 'account' | 'maker' | 'model';
    name: string;
    slug: string;
    onlyWorld?: WorldKey | undefined;
  },
): Promise<{ id: string }[]> {
  const called = { equals: name, mode: 'insensitive' as const };
  const ofWorld = onlyWorld === undefined ? {} : { world: onlyWorld };
  const page = { take: FEW, select: { id: true } } as const;
  switch (kind) {
    case 'account':
      return db.account.findMany({
        where: { erasedAt: null, ...ofWorld, OR: [{ slug }, { displayName: called }] },
        ...page,
      });
    case 'maker':
      return db.maker.findMany({ where: { OR: [{ slug }, { name: called }] }, ...page });
    case 'model':
      return db.vehicleModel.findMany({ where: { ...ofWorld, OR: [{ slug }, { name: called }] }, ...page });
  }
}

/** What the subjects of interests are called. */
export async function namesOfInterests(db: Queryable, ids: readonly string[]) {
  const where = { id: { in: [...ids] } };
  const [accounts, makers, models] = await Promise.all([
    db.account.findMany({ where, take: MOST_INTERESTS, select: { id: true, displayName: true, slug: true } }),
    db.maker.findMany({ where, take: MOST_INTERESTS, select: { id: true, name: true } }),
    db.vehicleModel.findMany({ where, take: MOST_INTERESTS, select: { id: true, ...MODEL_NAME } }),
  ]);
  return { accounts, makers, models };
}
