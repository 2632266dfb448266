import { readTrace } from '@/lib/capture/stored';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import { readForm } from '@/lib/run/stored';
import { asJson } from './asJson';
import type { Queryable } from './database';

/** Taken when the revision was submitted, or rebuilt later from what was known by then. */
export type InputsOrigin = 'submitted' | 'reconstructed';

/** Keeps what a revision's numbers are made from; what is kept is not replaced. */
export async function storeInputs(
  db: Queryable,
  revisionId: string,
  inputs: { snapshot: ReductionSnapshot; origin: InputsOrigin; takenAt: Date },
): Promise<void> {
  const { snapshot, origin, takenAt } = inputs;
  await db.revisionInputs.createMany({
    data: {
      revisionId,
      origin,
      takenAt,
      snapshot: asJson(snapshot),
    },
    skipDuplicates: true,
  });
}

/** Revisions from before inputs were kept, in order of id, after the one named. */
export async function revisionsWithoutInputs(db: Queryable, afterId: string | undefined, take: number) {
  const found = await db.runRevision.findMany({
    where: { inputs: null, ...(afterId === undefined ? {} : { id: { gt: afterId } }) },
    orderBy: { id: 'asc' },
    take,
    select: {
      id: true,
      number: true,
      form: true,
      submittedAt: true,
      trace: { select: { id: true, reduction: true } },
      run: { select: { id: true, number: true } },
    },
  });
  return found.map(({ trace, ...revision }) => ({
    ...revision,
    form: readForm(revision.form),
    trace: trace && { id: trace.id, stored: readTrace(trace.reduction) },
  }));
}
