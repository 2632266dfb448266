import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';

/** What the public pages read; nothing here shows a run before it is approved. */

const MODEL_NAMED = {
  slug: true,
  name: true,
  modelYear: true,
  variant: true,
  maker: { select: { name: true } },
} as const;

export interface ApprovedRunFilter {
  setupIds?: string[];
  loopId?: string;
  testerId?: string;
  cruiseClassKey?: string;
  world?: WorldKey;
}

/** Approved runs with who, what, where and their numbers under each method version, the newest first; latest run first. */
export function approvedRuns(db: Queryable, filter: ApprovedRunFilter, take?: number) {
  return db.run.findMany({
    where: { status: 'approved', ...runWhere(filter) },
    orderBy: [{ session: { localDate: 'desc' } }, { number: 'desc' }],
    ...(take === undefined ? {} : { take }),
    select: {
      number: true,
      carId: true,
      setupId: true,
      sessionId: true,
      world: true,
      approvedRevision: true,
      decidedAt: true,
      tester: { select: { displayName: true, slug: true } },
      car: { select: { model: { select: { id: true } } } },
      setup: { select: { title: true, slug: true, model: { select: MODEL_NAMED } } },
      loop: { select: { id: true, name: true, slug: true } },
      session: { select: { localDate: true } },
      cruiseClass: { select: { key: true, label: true } },
      revisions: {
        select: {
          number: true,
          conditions: { select: { windSpeedMps: true, windFromDeg: true, airTemperatureC: true } },
          normalisations: {
            orderBy: { computedAt: 'desc' },
            select: {
              methodVersion: true,
              isNormalised: true,
              measuredWhPerKm: true,
              normalisedWhPerKm: true,
              uWhPerKm: true,
              uRunRelative: true,
            },
          },
        },
      },
    },
  });
}

export type ApprovedRunRow = Awaited<ReturnType<typeof approvedRuns>>[number];

function runWhere({ setupIds, ...same }: ApprovedRunFilter): Prisma.RunWhereInput {
  return { ...same, ...(setupIds === undefined ? {} : { setupId: { in: setupIds } }) };
}

/** All contrasts between these setups, in whichever direction each is stored. */
export function contrastsAmong(db: Queryable, fitId: string, setupIds: string[]) {
  return db.contrast.findMany({
    where: { fitId, setupAId: { in: setupIds }, setupBId: { in: setupIds } },
    select: {
      setupAId: true,
      setupBId: true,
      kind: true,
      chainLength: true,
      differenceLog: true,
      logSe: true,
      dof: true,
      lowLog: true,
      highLog: true,
      simultaneousLowLog: true,
      simultaneousHighLog: true,
      isSeparable: true,
      sharedULog: true,
      reason: true,
    },
  });
}

export type StoredContrast = Awaited<ReturnType<typeof contrastsAmong>>[number];

/** Current estimates of a model's setups in every class of the model's own world. */
export function estimatesOfModel(db: Queryable, modelId: string, world: WorldKey) {
  return db.estimate.findMany({
    where: { setup: { modelId }, fit: { isCurrent: true, group: { world } } },
    select: {
      setupId: true,
      runs: true,
      cars: true,
      testers: true,
      loops: true,
      days: true,
      estimateWhPerKm: true,
      lowWhPerKm: true,
      highWhPerKm: true,
      intervalKind: true,
      rawMeanWhPerKm: true,
      isRanked: true,
      label: true,
      fit: {
        select: {
          id: true,
          summary: true,
          group: { select: { cruiseClass: { select: { key: true, label: true, ordinal: true } } } },
        },
      },
    },
  });
}

/** How many setups each class of a world ranks, by the key of the class. */
export async function rankedByClass(db: Queryable, world: WorldKey): Promise<Map<string, number>> {
  const fits = await db.fit.findMany({
    where: { isCurrent: true, group: { world } },
    select: {
      group: { select: { cruiseClassKey: true } },
      _count: { select: { estimates: { where: { isRanked: true } } } },
    },
  });
  return new Map(fits.map((fit) => [fit.group.cruiseClassKey, fit._count.estimates]));
}

/** A tester with the models of the cars that have approved runs; no car by its own name. */
export function publicTester(db: Queryable, slug: string) {
  return db.account.findUnique({
    where: { slug },
    select: {
      id: true,
      displayName: true,
      world: true,
      cars: {
        where: { runs: { some: { status: 'approved' } } },
        orderBy: { createdAt: 'asc' },
        select: {
          id: true,
          model: { select: MODEL_NAMED },
          _count: { select: { runs: { where: { status: 'approved' } } } },
        },
      },
      _count: { select: { runs: { where: { status: { in: [...PUBLIC_RUN_STATUSES] } } }, loops: true } },
    },
  });
}

/** One world in counts; cars, testers, loops, setups and models count once they have an approved run in it. */
export async function registryCounts(db: Queryable, world: WorldKey) {
  const hasApproved = { runs: { some: { status: 'approved', world } } } as const;
  const [approved, cars, testers, loops, setups, models] = await Promise.all([
    db.run.count({ where: { status: 'approved', world } }),
    db.car.count({ where: hasApproved }),
    db.account.count({ where: hasApproved }),
    db.loop.count({ where: hasApproved }),
    db.setup.count({ where: hasApproved }),
    db.vehicleModel.count({ where: { setups: { some: hasApproved } } }),
  ]);
  return { approved, cars, testers, loops, setups, models };
}

export type RegistryCounts = Awaited<ReturnType<typeof registryCounts>>;

/** Submitted runs of others that wait for a decision. */
export function countWaiting(db: Queryable, exceptTesterId: string, onlyWorld?: WorldKey): Promise<number> {
  return db.run.count({
    where: {
      status: 'submitted',
      testerId: { not: exceptTesterId },
      ...(onlyWorld ? { world: onlyWorld } : {}),
    },
  });
}

/** A tester's runs that are with them: drafts, and those that a reviewer wants changed. */
export async function countOpenRuns(db: Queryable, testerId: string) {
  const [drafts, changesAsked] = await Promise.all([
    db.run.count({ where: { status: 'draft', testerId } }),
    db.run.count({ where: { status: 'changesAsked', testerId } }),
  ]);
  return { drafts, changesAsked };
}

/** Approved runs of each model, by the model's id. */
export async function approvedRunsByModel(db: Queryable): Promise<Map<string, number>> {
  const setups = await db.setup.findMany({
    select: { modelId: true, _count: { select: { runs: { where: { status: 'approved' } } } } },
  });
  const counts = new Map<string, number>();
  for (const { modelId, _count } of setups) counts.set(modelId, (counts.get(modelId) ?? 0) + _count.runs);
  return counts;
}
