import type { ManyAct } from '@/lib/run/manyActs';
import { HOLDABLE_STATUSES } from '@/lib/run/runStatus';
import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { beyondOne, type Place, readingOrder } from './keyset';
import { MODEL_NAME, PERSON } from './names';

/** Runs that a steward does one thing to together. */

export interface ManyFilter {
  act: ManyAct;
  /** Of all of these. */
  testerIds?: readonly string[] | undefined;
  /** With the car of this run. */
  carOfRun?: number | undefined;
  loopSlug?: string | undefined;
  setupSlug?: string | undefined;
  /** Both ends included. */
  fromDay?: Date | undefined;
  toDay?: Date | undefined;
  /** Of these alone. */
  runIds?: readonly string[] | undefined;
  onlyWorld?: WorldKey | undefined;
}

const OPEN = { liftedAt: null } as const;

/** What the act can be done to at all. */
const REACHED: Readonly<Record<ManyAct, Prisma.RunWhereInput>> = {
  hold: { status: { in: [...HOLDABLE_STATUSES] }, holds: { none: OPEN } },
  lift: { holds: { some: OPEN } },
  retract: { status: 'approved' },
};

function manyWhere(filter: ManyFilter): Prisma.RunWhereInput {
  const { act, testerIds, carOfRun, loopSlug, setupSlug, fromDay, toDay, runIds, onlyWorld } = filter;
  return {
    ...REACHED[act],
    ...(testerIds ? { testerId: { in: [...testerIds] } } : {}),
    ...(carOfRun === undefined ? {} : { car: { runs: { some: { number: carOfRun } } } }),
    ...(loopSlug ? { loop: { slug: loopSlug } } : {}),
    ...(setupSlug ? { setup: { slug: setupSlug } } : {}),
    ...(fromDay || toDay
      ? { localDate: { ...(fromDay ? { gte: fromDay } : {}), ...(toDay ? { lte: toDay } : {}) } }
      : {}),
    ...(runIds ? { id: { in: [...runIds] } } : {}),
    ...(onlyWorld ? { world: onlyWorld } : {}),
  };
}

export function countManyRuns(db: Queryable, filter: ManyFilter): Promise<number> {
  return db.run.count({ where: manyWhere(filter) });
}

/** The latest number first. */
export function listManyRuns(
  db: Queryable,
  filter: ManyFilter,
  place: Place<number> | undefined,
  take: number,
) {
  return db.run.findMany({
    where: { ...manyWhere(filter), AND: beyondOne<Prisma.RunWhereInput>('number', place, 'desc') },
    orderBy: { number: readingOrder(place, 'desc') },
    take,
    select: MANY,
  });
}

/** Of these numbers, in their order; what there is no run of is left out. */
export function manyRunsByNumber(db: Queryable, numbers: readonly number[]) {
  return db.run.findMany({
    where: { number: { in: [...numbers] } },
    orderBy: { number: 'asc' },
    take: numbers.length,
    select: MANY,
  });
}

const MANY = {
  id: true,
  number: true,
  status: true,
  world: true,
  localDate: true,
  cruiseClassKey: true,
  testerId: true,
  tester: { select: PERSON },
  setup: { select: { slug: true, title: true, modelId: true, model: { select: MODEL_NAME } } },
  loop: { select: { slug: true, name: true } },
  holds: { where: OPEN, take: 1, select: { reason: true } },
  revisions: { orderBy: { number: 'desc' }, take: 1, select: { number: true } },
  _count: { select: { countedRuns: true } },
} as const satisfies Prisma.RunSelect;

export type ManyRow = Awaited<ReturnType<typeof listManyRuns>>[number];

/** The account of a public name or of the last part of its page's address. */
export function accountsNamed(db: Queryable, text: string) {
  return db.account.findMany({
    where: { OR: [{ slug: text }, { displayName: text }] },
    take: 10,
    select: { id: true },
  });
}

/** Which tester drove which car, of runs that count in a world. */
export async function driversOfCars(db: Queryable, world: WorldKey) {
  const rows = await db.countedRun.groupBy({
    by: ['carId', 'testerId'],
    where: { world },
    orderBy: [{ carId: 'asc' }, { testerId: 'asc' }],
  });
  return rows.map(({ carId, testerId }) => ({ car: carId, tester: testerId }));
}
