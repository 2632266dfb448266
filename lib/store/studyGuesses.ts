import type { Queryable } from './database';

/** What readers expect of running studies. Of those who drive in one nothing counts, even where it was said before. */

const ofOthers = (studyId: string) => ({
  studyId,
  account: { studiesJoined: { none: { studyId } } },
});

/** The one of an account, made or changed. */
export async function putGuess(
  tx: Queryable,
  guess: { studyId: string; accountId: string; percent: number; guessedAt: Date },
): Promise<void> {
  const { studyId, accountId, ...data } = guess;
  await tx.studyGuess.upsert({
    where: { studyId_accountId: { studyId, accountId } },
    create: guess,
    update: data,
    select: { studyId: true },
  });
}

export async function guessOf(db: Queryable, studyId: string, accountId: string): Promise<number | null> {
  const where = { studyId_accountId: { studyId, accountId } };
  return (await db.studyGuess.findUnique({ where, select: { percent: true } }))?.percent ?? null;
}

export function countGuesses(db: Queryable, studyId: string): Promise<number> {
  return db.studyGuess.count({ where: ofOthers(studyId) });
}

/** Sizes alone, the smallest first: whose they are is told to nobody. */
export async function guessesOf(db: Queryable, studyId: string, take: number): Promise<number[]> {
  const rows = await db.studyGuess.findMany({
    where: ofOthers(studyId),
    orderBy: [{ percent: 'asc' }, { accountId: 'asc' }],
    take,
    select: { percent: true },
  });
  return rows.map(({ percent }) => percent);
}
