import type { ReportDecision, ReportedKind, ReportReason } from '@/lib/run/reports';
import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { beyond, type Place, readingOrder } from './keyset';
import { MODEL_NAME, PERSON } from './names';

/** What people report about public things, for reviewers and stewards alone. */

export interface NewReport {
  world: WorldKey;
  kind: ReportedKind;
  subjectId: string;
  /** Whose the thing is, where it is anybody's. */
  ownerId: string | null;
  byId: string;
  reason: ReportReason;
  words: string;
  reportedAt: Date;
}

/** False where the same person has one open about it. */
export async function insertReport(tx: Queryable, report: NewReport): Promise<boolean> {
  const { count } = await tx.publicReport.createMany({ data: report, skipDuplicates: true });
  return count === 1;
}

/** How many an account sent since a time; its next ones wait for this transaction. */
export async function reportsSince(tx: Queryable, byId: string, since: Date): Promise<number> {
  await tx.$queryRaw`SELECT "id" FROM "Account" WHERE "id" = ${byId}::uuid FOR NO KEY UPDATE`;
  return tx.publicReport.count({ where: { byId, reportedAt: { gt: since } } });
}

export function reportById(db: Queryable, id: string) {
  return db.publicReport.findUnique({ where: { id } });
}

/** False where somebody settled it before. */
export async function settleReportRow(
  tx: Queryable,
  id: string,
  settled: { settledAt: Date; settledById: string; decision: ReportDecision; answer: string },
): Promise<boolean> {
  const { count } = await tx.publicReport.updateMany({ where: { id, settledAt: null }, data: settled });
  return count === 1;
}

export interface ReportFilter {
  isOpen: boolean;
  onlyWorld?: WorldKey | undefined;
}

function reportWhere({ isOpen, onlyWorld }: ReportFilter): Prisma.PublicReportWhereInput {
  return { settledAt: isOpen ? null : { not: null }, ...(onlyWorld ? { world: onlyWorld } : {}) };
}

export function countReports(db: Queryable, filter: ReportFilter): Promise<number> {
  return db.publicReport.count({ where: reportWhere(filter) });
}

/** The latest first. */
export function listReports(
  db: Queryable,
  filter: ReportFilter,
  place: Place<readonly [Date, string]> | undefined,
  take: number,
) {
  const order = readingOrder(place, 'desc');
  return db.publicReport.findMany({
    where: {
      ...reportWhere(filter),
      AND: beyond<Prisma.PublicReportWhereInput>(['reportedAt', 'id'], place, 'desc'),
    },
    orderBy: [{ reportedAt: order }, { id: order }],
    take,
    include: { by: { select: PERSON }, settledBy: { select: PERSON } },
  });
}

/** Runs that somebody reported and nobody settled, at most so many. */
export async function openlyReportedRuns(db: Queryable, take: number): Promise<string[]> {
  const rows = await db.publicReport.findMany({
    where: { kind: 'run', settledAt: null },
    orderBy: { reportedAt: 'desc' },
    take,
    select: { subjectId: true },
  });
  return rows.map(({ subjectId }) => subjectId);
}

export interface Reportable {
  id: string;
  world: string;
  /** Account that it belongs to; null where it is nobody's own. */
  ownerId: string | null;
  /** Of its address. */
  key: string;
  name: string;
}

/** A public thing by the last part of its page's address; null where there is none, or none that is public. */
export async function reportableByKey(
  db: Queryable,
  kind: ReportedKind,
  key: string,
): Promise<Reportable | null> {
  const [found] = await READS[kind](db, kind === 'run' ? { number: Number(key) } : { slug: key });
  return found ?? null;
}

/** The same by ids. */
export async function reportablesById(
  db: Queryable,
  kind: ReportedKind,
  ids: readonly string[],
): Promise<Map<string, Reportable>> {
  const found = await READS[kind](db, { id: { in: [...ids] } });
  return new Map(found.map((thing) => [thing.id, thing]));
}

type By = { number: number } | { slug: string } | { id: { in: string[] } };
type Read = (db: Queryable, by: By) => Promise<Reportable[]>;

const MOST = 100;

const READS: Readonly<Record<ReportedKind, Read>> = {
  run: async (db, by) => {
    const where = { ...(by as Prisma.RunWhereInput), status: { in: [...PUBLIC_RUN_STATUSES] } };
    const rows = await db.run.findMany({
      where,
      take: MOST,
      select: { id: true, world: true, number: true, testerId: true },
    });
    return rows.map(({ id, world, number, testerId }) => ({
      id,
      world,
      ownerId: testerId,
      key: String(number),
      name: String(number),
    }));
  },
  setup: async (db, by) => {
    const select = { id: true, world: true, slug: true, title: true, model: { select: MODEL_NAME } } as const;
    const rows = await db.setup.findMany({ where: by as Prisma.SetupWhereInput, take: MOST, select });
    return rows.map(({ id, world, slug, title, model }) => ({
      id,
      world,
      ownerId: null,
      key: slug,
      name: `${model.maker.name} ${model.name}, ${title}`,
    }));
  },
  loop: async (db, by) => {
    const select = { id: true, world: true, slug: true, name: true, ownerId: true } as const;
    const rows = await db.loop.findMany({ where: by as Prisma.LoopWhereInput, take: MOST, select });
    return rows.map(({ slug, ...loop }) => ({ ...loop, key: slug }));
  },
  model: async (db, by) => {
    const select = { id: true, world: true, ...MODEL_NAME } as const;
    const rows = await db.vehicleModel.findMany({
      where: by as Prisma.VehicleModelWhereInput,
      take: MOST,
      select,
    });
    return rows.map(({ id, world, slug, name, maker }) => ({
      id,
      world,
      ownerId: null,
      key: slug,
      name: `${maker.name} ${name}`,
    }));
  },
  tester: async (db, by) => {
    const where = { ...(by as Prisma.AccountWhereInput), erasedAt: null };
    const select = { id: true, world: true, slug: true, displayName: true } as const;
    const rows = await db.account.findMany({ where, take: MOST, select });
    return rows.map(({ id, world, slug, displayName }) => ({
      id,
      world,
      ownerId: id,
      key: slug,
      name: displayName,
    }));
  },
};
