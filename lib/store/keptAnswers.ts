import type { Queryable } from './database';

/** One request of a program: whose, at what, under which key of its own. */
export interface RequestKey {
  accountId: string;
  route: string;
  key: string;
}

export interface Answered {
  status: number;
  body: string;
  location: string | null;
  etag: string | null;
}

export function countKeptAnswers(db: Queryable, accountId: string): Promise<number> {
  return db.keptAnswer.count({ where: { accountId } });
}

/** When the oldest of an account was asked for; undefined where it has none. */
export async function oldestKeptAnswer(db: Queryable, accountId: string): Promise<Date | undefined> {
  const oldest = await db.keptAnswer.findFirst({
    where: { accountId },
    orderBy: { askedAt: 'asc' },
    select: { askedAt: true },
  });
  return oldest?.askedAt;
}

/** True where this call took the key; false where it stands already. */
export async function takeKey(
  db: Queryable,
  of: RequestKey & { id: string; requestHash: string; at: Date },
): Promise<boolean> {
  const { at, ...row } = of;
  const { count } = await db.keptAnswer.createMany({
    data: [{ ...row, askedAt: at, begunAt: at }],
    skipDuplicates: true,
  });
  return count === 1;
}

export function keptAnswer(db: Queryable, { accountId, route, key }: RequestKey) {
  return db.keptAnswer.findUnique({
    where: { accountId_route_key: { accountId, route, key } },
    select: {
      id: true,
      requestHash: true,
      begunAt: true,
      status: true,
      body: true,
      location: true,
      etag: true,
    },
  });
}

/** Takes up again what broke off; true for one of all who try. */
export async function takeUpAgain(
  db: Queryable,
  { accountId, route, key }: RequestKey,
  begunAt: Date,
  at: Date,
): Promise<boolean> {
  const { count } = await db.keptAnswer.updateMany({
    where: { accountId, route, key, begunAt, status: null },
    data: { begunAt: at },
  });
  return count === 1;
}

/** Unless somebody else has taken it up meanwhile. */
export async function keepAnswer(
  db: Queryable,
  { accountId, route, key }: RequestKey,
  begunAt: Date,
  answered: Answered,
): Promise<void> {
  await db.keptAnswer.updateMany({
    where: { accountId, route, key, begunAt, status: null },
    data: answered,
  });
}

/** The request was refused: nothing was done, and its key is free again. */
export async function freeKey(
  db: Queryable,
  { accountId, route, key }: RequestKey,
  begunAt: Date,
): Promise<void> {
  await db.keptAnswer.deleteMany({ where: { accountId, route, key, begunAt, status: null } });
}

/** What was asked for before an instant, of one account or of all. */
export async function forgetAnswers(db: Queryable, before: Date, accountId?: string): Promise<void> {
  await db.keptAnswer.deleteMany({
    where: { askedAt: { lt: before }, ...(accountId === undefined ? {} : { accountId }) },
  });
}
