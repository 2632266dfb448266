import type { WorldKey } from '@/lib/run/world';
import type { Asked } from '@/lib/study/askable';
import type { RequestState } from '@/lib/study/requestState';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { MODEL_NAME, PERSON } from './names';

/** What readers ask for, and their voices for it. */

export interface NewRequest extends Omit<Asked, 'setups'> {
  baselineId: string | null;
  setupId: string | null;
  world: WorldKey;
  question: string;
  modelId: string;
  cruiseClassKey: string;
  askedById: string;
  askedAt: Date;
}

/** With the voice of whoever asks. Fails by the key where the same is open or taken. */
export function insertRequest(tx: Queryable, request: NewRequest): Promise<{ id: string }> {
  const { askedById, askedAt } = request;
  return tx.testRequest.create({
    data: {
      ...request,
      movedAt: askedAt,
      backings: { create: { accountId: askedById, backedAt: askedAt } },
    },
    select: { id: true },
  });
}

/** How many an account asked for since a time, and how many voices it gave; its next ones wait for this transaction. */
export async function askedSince(
  tx: Queryable,
  accountId: string,
  since: Date,
): Promise<{ requests: number; voices: number }> {
  await tx.$queryRaw`SELECT "id" FROM "Account" WHERE "id" = ${accountId}::uuid FOR NO KEY UPDATE`;
  const requests = await tx.testRequest.count({ where: { askedById: accountId, askedAt: { gt: since } } });
  const voices = await tx.requestBacking.count({ where: { accountId, backedAt: { gt: since } } });
  return { requests, voices };
}

const REQUEST = {
  id: true,
  world: true,
  question: true,
  modelId: true,
  cruiseClassKey: true,
  factor: true,
  fromKey: true,
  toKey: true,
  baselineId: true,
  setupId: true,
  state: true,
  askedAt: true,
  movedAt: true,
  askedById: true,
  hiddenAt: true,
  hiddenReason: true,
  askedBy: { select: PERSON },
  cruiseClass: { select: { label: true } },
  model: { select: MODEL_NAME },
  baseline: { select: { title: true } },
  setup: { select: { title: true } },
  _count: { select: { backings: true } },
  studies: {
    where: { state: { not: 'draft' } },
    orderBy: { id: 'desc' },
    take: 3,
    select: { slug: true, question: true, state: true },
  },
} as const satisfies Prisma.TestRequestSelect;

export type StoredRequest = Prisma.TestRequestGetPayload<{ select: typeof REQUEST }>;

export function requestById(db: Queryable, id: string): Promise<StoredRequest | null> {
  return db.testRequest.findUnique({ where: { id }, select: REQUEST });
}

/** Of a class those in these states, the most voices first. */
export function listRequests(
  db: Queryable,
  of: { world: WorldKey; cruiseClassKey: string; states: readonly RequestState[] },
  take: number,
): Promise<StoredRequest[]> {
  const { states, ...group } = of;
  return db.testRequest.findMany({
    where: { ...group, state: { in: [...states] }, hiddenAt: null },
    orderBy: [{ backings: { _count: 'desc' } }, { id: 'asc' }],
    take,
    select: REQUEST,
  });
}

/** Open and taken ones of one factor of a model. */
export function requestsOfFactor(
  db: Queryable,
  of: { world: WorldKey; modelId: string; factor: string },
  take: number,
): Promise<StoredRequest[]> {
  return db.testRequest.findMany({
    where: { ...of, state: { in: ['open', 'taken'] }, hiddenAt: null },
    orderBy: [{ backings: { _count: 'desc' } }, { id: 'asc' }],
    take,
    select: REQUEST,
  });
}

/** Of these requests those that an account backs. */
export async function backedBy(
  db: Queryable,
  accountId: string,
  requestIds: readonly string[],
): Promise<ReadonlySet<string>> {
  const rows = await db.requestBacking.findMany({
    where: { accountId, requestId: { in: [...requestIds] } },
    select: { requestId: true },
  });
  return new Set(rows.map(({ requestId }) => requestId));
}

/** False where the voice was there already. */
export async function insertBacking(
  tx: Queryable,
  backing: { requestId: string; accountId: string; backedAt: Date },
): Promise<boolean> {
  const { count } = await tx.requestBacking.createMany({ data: backing, skipDuplicates: true });
  return count === 1;
}

/** False where there was none. */
export async function deleteBacking(
  tx: Queryable,
  backing: { requestId: string; accountId: string },
): Promise<boolean> {
  const { count } = await tx.requestBacking.deleteMany({ where: backing });
  return count === 1;
}

/** False where it is not in that state any more, or hidden. */
export async function moveRequest(
  tx: Queryable,
  id: string,
  from: RequestState,
  to: { state: RequestState; movedAt: Date },
): Promise<boolean> {
  const { count } = await tx.testRequest.updateMany({ where: { id, state: from }, data: to });
  return count === 1;
}

/** False where it was hidden before. */
export async function hideRequestRow(
  tx: Queryable,
  id: string,
  hidden: { hiddenAt: Date; hiddenReason: string; hiddenById: string },
): Promise<boolean> {
  const { count } = await tx.testRequest.updateMany({ where: { id, hiddenAt: null }, data: hidden });
  return count === 1;
}

/** The request that a study was planned from, and whether another study of it runs. */
export async function requestOfStudy(tx: Queryable, studyId: string) {
  const study = await tx.study.findUnique({
    where: { id: studyId },
    select: { request: { select: { id: true, state: true } } },
  });
  if (study?.request == null) return null;
  const others = { requestId: study.request.id, state: 'running' as const, id: { not: studyId } };
  const other = await tx.study.findFirst({ where: others, select: { id: true } });
  return { ...study.request, isDrivenElsewhere: other !== null };
}
