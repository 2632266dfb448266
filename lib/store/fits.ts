import type { WorldKey } from '@/lib/run/world';
import type { Fault } from '@/lib/stats/holds/intervalsHold';
import { readIntervalsHold } from '@/lib/stats/holds/stored';
import type { FitBasis } from '@/lib/stats/publishedFit';
import { type FitSummary, readFitSummary, readHeldPlace, readMissing } from '@/lib/stats/stored';
import type { Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import { containing } from './containing';
import type { Queryable } from './database';
import { MODEL_NAME } from './names';

export async function findOrInsertGroup(
  db: Queryable,
  group: { cruiseClassKey: string; world: WorldKey },
): Promise<string> {
  const found = await db.comparisonGroup.upsert({
    where: { cruiseClassKey_world: group },
    create: group,
    update: {},
    select: { id: true },
  });
  return found.id;
}

export interface NewFit {
  groupId: string;
  methodVersion: string;
  fittedAt: Date;
  runCount: number;
  converged: boolean;
  seed: number;
  durationMs: number;
  summary: FitSummary;
  basis: FitBasis;
  estimates: Omit<Prisma.EstimateCreateManyInput, 'fitId'>[];
  contrasts: Omit<Prisma.ContrastCreateManyInput, 'fitId'>[];
}

/** Publishes a fit in place of the current one; older fits stay readable. */
export async function publishFit(db: Queryable, fit: NewFit): Promise<string> {
  const { estimates, contrasts, summary, basis, ...data } = fit;
  await db.fit.updateMany({ where: { groupId: fit.groupId, isCurrent: true }, data: { isCurrent: false } });
  const { id: fitId } = await db.fit.create({
    data: { ...data, summary: asJson(summary), basis: asJson(basis), isCurrent: true },
    select: { id: true },
  });
  await db.estimate.createMany({ data: estimates.map((estimate) => ({ ...estimate, fitId })) });
  await db.contrast.createMany({ data: contrasts.map((contrast) => ({ ...contrast, fitId })) });
  return fitId;
}

/** Published fits from before a time of groups that borrow from the other classes of their world. */
export function smallFitsBefore(db: Queryable, before: Date) {
  return db.fit.findMany({
    where: { isCurrent: true, fittedAt: { lt: before }, summary: { path: ['usesPooled'], equals: true } },
    select: { fittedAt: true, group: { select: { cruiseClassKey: true, world: true } } },
  });
}

/** What speaks against the intervals of a fit; null where nothing was asked of it yet, or too little can be said. */
function faultsOf(check: { result: unknown } | null): Fault[] | null {
  return check === null ? null : (readIntervalsHold(check.result)?.faults ?? null);
}

export async function currentFit(db: Queryable, group: { cruiseClassKey: string; world: WorldKey }) {
  const found = await db.fit.findFirst({
    where: { isCurrent: true, group },
    select: {
      id: true,
      fittedAt: true,
      runCount: true,
      converged: true,
      methodVersion: true,
      seed: true,
      durationMs: true,
      summary: true,
      check: { select: { result: true } },
    },
  });
  if (found === null) return null;
  const { summary, check, ...rest } = found;
  return { ...rest, summary: readFitSummary(summary), faults: faultsOf(check) };
}

/** Fits by their ids, as an estimate for a reader takes them. */
export async function fitsByIds(db: Queryable, ids: readonly string[]) {
  const found = await db.fit.findMany({
    where: { id: { in: [...ids] } },
    select: { id: true, summary: true, check: { select: { result: true } } },
  });
  return new Map(
    found.map(({ id, summary, check }) => [
      id,
      { summary: readFitSummary(summary), faults: faultsOf(check) },
    ]),
  );
}

/** Comparison groups that have a published fit, with their sizes. */
export function currentGroups(db: Queryable) {
  return db.fit.findMany({
    where: { isCurrent: true, runCount: { gt: 0 } },
    orderBy: { group: { cruiseClass: { ordinal: 'asc' } } },
    select: {
      runCount: true,
      group: {
        select: { world: true, cruiseClass: { select: { key: true, label: true, speedMps: true } } },
      },
    },
  });
}

const SETUP_ROW = {
  id: true,
  slug: true,
  title: true,
  world: true,
  model: {
    select: {
      id: true,
      ...MODEL_NAME,
      bodyClass: true,
      levels: { where: { factor: 'wheelTyre', isBaseline: true }, select: { tyreKind: true } },
    },
  },
  levels: {
    select: {
      factor: true,
      level: { select: { key: true, label: true, tyreKind: true, isBaseline: true } },
    },
  },
} as const;

const SHOWN_ESTIMATE = {
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
} as const satisfies Prisma.EstimateSelect;

/** What every page shows of an estimate. */
export type ShownEstimate = Prisma.EstimateGetPayload<{ select: typeof SHOWN_ESTIMATE }>;

/** More setups than a fit is made of in any reasonable time. */
const MOST_ESTIMATES = 2000;

/** A fit's estimates, the lowest first; with slugs those of these setups. */
export async function estimatesOf(db: Queryable, fitId: string, slugs?: readonly string[]) {
  const found = await db.estimate.findMany({
    where: { fitId, ...(slugs === undefined ? {} : { setup: { slug: { in: [...slugs] } } }) },
    orderBy: [{ logMean: 'asc' }, { setupId: 'asc' }],
    take: MOST_ESTIMATES,
    select: {
      setupId: true,
      ...SHOWN_ESTIMATE,
      sessions: true,
      logMean: true,
      logSe: true,
      dof: true,
      missing: true,
      rankLower: true,
      rankUpper: true,
      chanceOfLowest: true,
      component: true,
      details: true,
      setup: { select: SETUP_ROW },
    },
  });
  return found.map(({ details, ...row }) => ({
    ...row,
    missing: readMissing(row.missing),
    held: readHeldPlace(details),
  }));
}

/** Setups of a fit, those with most runs first; with a text those that have it in a name. */
export async function setupsOfFit(db: Queryable, fitId: string, text: string | undefined, take: number) {
  const contains = containing(text ?? '');
  const where = {
    fitId,
    ...(text === undefined
      ? {}
      : {
          setup: {
            OR: [
              { title: contains },
              { model: { name: contains } },
              { model: { maker: { name: contains } } },
            ],
          },
        }),
  };
  const [rows, total] = await Promise.all([
    db.estimate.findMany({
      where,
      orderBy: [{ runs: 'desc' }, { setupId: 'asc' }],
      take,
      select: {
        runs: true,
        setup: { select: { slug: true, title: true, model: { select: SETUP_ROW.model.select } } },
      },
    }),
    db.estimate.count({ where }),
  ]);
  return { rows, total };
}

export type SetupOffered = Awaited<ReturnType<typeof setupsOfFit>>['rows'][number];

export type EstimateRow = Awaited<ReturnType<typeof estimatesOf>>[number];

export async function estimatesOfSetup(db: Queryable, setupId: string) {
  const found = await db.estimate.findMany({
    where: { setupId, fit: { isCurrent: true } },
    select: {
      ...SHOWN_ESTIMATE,
      sessions: true,
      missing: true,
      rankLower: true,
      rankUpper: true,
      details: true,
      fit: {
        select: {
          fittedAt: true,
          converged: true,
          check: { select: { result: true } },
          group: {
            select: { world: true, cruiseClass: { select: { key: true, label: true, speedMps: true } } },
          },
        },
      },
    },
  });
  return found.map(({ fit: { check, ...fit }, details, ...row }) => ({
    ...row,
    missing: readMissing(row.missing),
    held: readHeldPlace(details),
    fit: { ...fit, faults: faultsOf(check) },
  }));
}

/** Current estimates of a model's setups in every class of the model's own world. */
export async function estimatesOfModel(db: Queryable, modelId: string, world: WorldKey) {
  const found = await db.estimate.findMany({
    where: { setup: { modelId }, fit: { isCurrent: true, group: { world } } },
    select: {
      setupId: true,
      ...SHOWN_ESTIMATE,
      fit: {
        select: {
          id: true,
          fittedAt: true,
          summary: true,
          check: { select: { result: true } },
          group: { select: { cruiseClass: { select: { key: true, label: true, ordinal: true } } } },
        },
      },
    },
  });
  return found.map(({ fit: { summary, check, ...fit }, ...row }) => ({
    ...row,
    fit: { ...fit, summary: readFitSummary(summary), faults: faultsOf(check) },
  }));
}
