import type { Listeners } from '@/lib/study/studyNews';
import type { Queryable } from './database';

/** Who is told of what happens to studies and their runs. */

/** More people than are ever told of one study at once, of each kind. */
const MOST_TOLD = 10_000;
const STILL_HERE = { account: { erasedAt: null } } as const;
const WHO = { orderBy: { accountId: 'asc' }, take: MOST_TOLD, select: { accountId: true } } as const;

/** A study as notices name it, with the request that it was planned from. */
export function studyToTell(tx: Queryable, id: string) {
  return tx.study.findUniqueOrThrow({
    where: { id },
    select: {
      slug: true,
      question: true,
      requestId: true,
      request: { select: { question: true } },
      owner: { select: { erasedAt: true } },
    },
  });
}

export async function listenersOf(
  tx: Queryable,
  studyId: string,
  requestId: string | null,
): Promise<Listeners> {
  const testers = await tx.studyTester.findMany({ where: { studyId, ...STILL_HERE }, ...WHO });
  const backers =
    requestId === null
      ? []
      : await tx.requestBacking.findMany({ where: { requestId, ...STILL_HERE }, ...WHO });
  const guessers = await tx.studyGuess.findMany({ where: { studyId, ...STILL_HERE }, ...WHO });
  const ids = (rows: { accountId: string }[]) => rows.map(({ accountId }) => accountId);
  return { testers: ids(testers), backers: ids(backers), guessers: ids(guessers) };
}

/** Of these runs those that belong to a study whose owner is there, with its owner. */
export async function studiesOfRuns(tx: Queryable, runIds: readonly string[]) {
  const rows = await tx.studyRun.findMany({
    where: { runId: { in: [...runIds] }, study: { owner: { erasedAt: null } } },
    orderBy: { run: { number: 'asc' } },
    take: runIds.length,
    select: {
      run: { select: { number: true, testerId: true } },
      study: { select: { id: true, slug: true, question: true, ownerId: true } },
    },
  });
  return rows.map(({ run, study }) => ({ ...run, study }));
}

export function countStudyTesters(tx: Queryable, studyId: string): Promise<number> {
  return tx.studyTester.count({ where: { studyId } });
}
