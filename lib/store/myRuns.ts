import type { RunStatus } from '@/lib/run/runStatus';
import { readForm } from '@/lib/run/stored';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { beyond, type Place, readingOrder } from './keyset';

/** A tester's runs in one state from a place on, those saved last first. */
export async function runsOf(
  db: Queryable,
  of: { testerId: string; status: RunStatus },
  place: Place<readonly [Date, number]> | undefined,
  take: number,
) {
  const order = readingOrder(place, 'desc');
  const runs = await db.run.findMany({
    where: { ...of, AND: beyond<Prisma.RunWhereInput>(['draftSavedAt', 'number'], place, 'desc') },
    orderBy: [{ draftSavedAt: order }, { number: order }],
    take,
    select: {
      id: true,
      number: true,
      status: true,
      draft: true,
      draftSavedAt: true,
      submittedAt: true,
      decidedAt: true,
      car: { select: { name: true } },
      setup: { select: { title: true, slug: true } },
      loop: { select: { name: true } },
      cruiseClass: { select: { label: true } },
      revisions: {
        orderBy: { number: 'desc' },
        take: 1,
        select: {
          localDate: true,
          decisions: {
            orderBy: { decidedAt: 'desc' },
            take: 1,
            select: { kind: true, note: true, reasons: { select: { ruleId: true, text: true } } },
          },
        },
      },
    },
  });
  return runs.map((run) => ({ ...run, draft: readForm(run.draft) }));
}

/** How many runs of a tester are in each state. */
export async function countRunsOf(db: Queryable, testerId: string): Promise<Map<RunStatus, number>> {
  const rows = await db.run.groupBy({ by: ['status'], where: { testerId }, _count: true });
  return new Map(rows.map(({ status, _count }) => [status, _count]));
}

/** What the choices of drafts are called, by id: cars of their tester, setups and loops. */
export async function namesOfChoices(
  db: Queryable,
  {
    ownerId,
    carIds,
    setupIds,
    loopIds,
  }: Record<'carIds' | 'setupIds' | 'loopIds', string[]> & { ownerId: string },
): Promise<Map<string, string>> {
  const [cars, setups, loops] = await Promise.all([
    db.car.findMany({ where: { id: { in: carIds }, ownerId }, select: { id: true, name: true } }),
    db.setup.findMany({ where: { id: { in: setupIds } }, select: { id: true, title: true } }),
    db.loop.findMany({ where: { id: { in: loopIds } }, select: { id: true, name: true } }),
  ]);
  return new Map([
    ...[...cars, ...loops].map(({ id, name }) => [id, name] as const),
    ...setups.map(({ id, title }) => [id, title] as const),
  ]);
}
