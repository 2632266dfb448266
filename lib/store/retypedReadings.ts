import { readMarks } from '@/lib/run/stored';
import type { Queryable } from './database';
import { PERSON } from './names';

export interface NewRetyped {
  revisionId: string;
  reviewerId: string;
  quantity: string;
  text: string | null;
  agrees: boolean | null;
  typedAt: Date;
}

/** Keeps what was typed first: a reading that this reviewer has seen already is not typed blind any more. */
export async function insertRetyped(tx: Queryable, rows: readonly NewRetyped[]): Promise<number> {
  const { count } = await tx.retypedReading.createMany({ data: [...rows], skipDuplicates: true });
  return count;
}

/** Of all reviewers of a revision: a row each and reading at most. */
export function retypedOf(db: Queryable, revisionId: string) {
  return db.retypedReading.findMany({
    where: { revisionId },
    orderBy: [{ typedAt: 'asc' }, { quantity: 'asc' }],
    take: 500,
    select: {
      reviewerId: true,
      quantity: true,
      text: true,
      agrees: true,
      typedAt: true,
      reviewer: { select: PERSON },
    },
  });
}

/** A revision's readings as its tester typed them, with the kinds of its photos and what is marked on them. */
export async function readingsToRetype(db: Queryable, revisionId: string) {
  const found = await db.runRevision.findUnique({
    where: { id: revisionId },
    select: {
      readings: { select: { quantity: true, enteredText: true, enteredUnit: true, value: true } },
      evidence: { select: { marks: true, evidence: { select: { kind: true } } } },
    },
  });
  return {
    readings: found?.readings ?? [],
    photos: found?.evidence.map(({ marks, evidence }) => ({ ...evidence, marks: readMarks(marks) })) ?? [],
  };
}
