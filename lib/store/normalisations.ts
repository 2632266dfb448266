import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';

export interface StoredNormalisation {
  methodVersion: string;
  input: unknown;
  result: unknown;
  isNormalised: boolean;
  measuredWhPerKm: number;
  normalisedWhPerKm: number | null;
  uWhPerKm: number | null;
  uRunRelative: number | null;
  effectiveDof: number | null;
  adjustmentRelative: number | null;
}

/** Keeps the result of one revision under one method version; a result that is there is not replaced. */
export async function storeNormalisation(
  db: Queryable,
  revisionId: string,
  reduction: { normalisation: StoredNormalisation },
  computedAt: Date,
): Promise<void> {
  const { input, result, ...columns } = reduction.normalisation;
  await db.normalisation.createMany({
    data: { ...columns, revisionId, computedAt, input: asJson(input), result: asJson(result) },
    skipDuplicates: true,
  });
}

/** Infinite numbers have no JSON; they are written as null, as the result's own types say. */
function asJson(value: unknown): Prisma.InputJsonValue {
  return JSON.parse(JSON.stringify(value)) as Prisma.InputJsonValue;
}

/** A world's revisions without a result under the method version, in order of id, after the one named. */
export function revisionsWithout(
  db: Queryable,
  methodVersion: string,
  isDemo: boolean,
  afterId: string | undefined,
  take: number,
) {
  return db.runRevision.findMany({
    where: {
      run: { isDemo },
      normalisations: { none: { methodVersion } },
      ...(afterId === undefined ? {} : { id: { gt: afterId } }),
    },
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
}

/** The classes in which a world has approved runs. */
export function classesWithApprovedRuns(db: Queryable, isDemo: boolean) {
  return db.run.findMany({
    where: { status: 'approved', isDemo, cruiseClassKey: { not: null } },
    distinct: ['cruiseClassKey'],
    orderBy: { cruiseClassKey: 'asc' },
    select: { cruiseClassKey: true },
  });
}
