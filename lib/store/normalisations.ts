import { readSnapshot } from '@/lib/reduction/stored';
import type { NormalisationRow } from '@/lib/reduction/storedReduction';
import type { WorldKey } from '@/lib/run/world';
import { asJson } from './asJson';
import type { Queryable } from './database';

/** Keeps the result of one revision under one method version; a result that is there is not replaced. */
export async function storeNormalisation(
  db: Queryable,
  revisionId: string,
  row: NormalisationRow,
  computedAt: Date,
): Promise<void> {
  const { input, result, ...columns } = row;
  await db.normalisation.createMany({
    data: { ...columns, revisionId, computedAt, input: asJson(input), result: asJson(result) },
    skipDuplicates: true,
  });
}

/** A world's revisions without a result under the method version, in order of id, after the one named, with their inputs. */
export async function revisionsWithout(
  db: Queryable,
  methodVersion: string,
  world: WorldKey,
  afterId: string | undefined,
  take: number,
) {
  const rows = await db.runRevision.findMany({
    where: {
      run: { world },
      normalisations: { none: { methodVersion } },
      ...(afterId === undefined ? {} : { id: { gt: afterId } }),
    },
    orderBy: { id: 'asc' },
    take,
    select: {
      id: true,
      number: true,
      inputs: { select: { snapshot: true } },
      run: { select: { id: true, number: true } },
    },
  });
  return rows.map(({ inputs, ...revision }) => ({
    ...revision,
    inputs: inputs && readSnapshot(inputs.snapshot),
  }));
}

export function countRevisionsWithout(
  db: Queryable,
  methodVersion: string,
  world: WorldKey,
): Promise<number> {
  return db.runRevision.count({ where: { run: { world }, normalisations: { none: { methodVersion } } } });
}
