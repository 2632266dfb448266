import type { Change } from '@/lib/reduction/corrections/change';
import { readChange } from '@/lib/reduction/corrections/stored';
import type { WorldKey } from '@/lib/run/world';
import type { CorrectionState, Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import type { Queryable } from './database';
import { beyondOne, type Place, readingOrder } from './keyset';
import { PERSON } from './names';

/** Corrections, each of one thing; what they make of runs stands in correctionRuns.ts. */

export interface NewCorrection {
  world: WorldKey;
  change: Change;
  subjectId: string;
  reason: string;
  proposedById: string;
  proposedAt: Date;
}

/** Fails by an exclusion constraint where another correction of the thing is open. */
export function insertCorrection(tx: Queryable, { change, ...correction }: NewCorrection) {
  return tx.correction.create({
    data: { ...correction, kind: change.kind, change: asJson(change) },
    select: { id: true, number: true },
  });
}

const CORRECTION = {
  id: true,
  number: true,
  world: true,
  kind: true,
  subjectId: true,
  change: true,
  reason: true,
  state: true,
  proposedById: true,
  proposedAt: true,
  computation: true,
  computedAt: true,
  fingerprint: true,
  fault: true,
  decidedAt: true,
  decision: true,
  proposedBy: { select: PERSON },
  decidedBy: { select: PERSON },
} as const satisfies Prisma.CorrectionSelect;

export type StoredCorrection = NonNullable<Awaited<ReturnType<typeof correctionWhere>>>;

async function correctionWhere(db: Queryable, where: Prisma.CorrectionWhereUniqueInput) {
  const found = await db.correction.findUnique({ where, select: CORRECTION });
  return found && { ...found, change: readChange(found.change) };
}

export function correctionById(db: Queryable, id: string) {
  return correctionWhere(db, { id });
}

export function correctionByNumber(db: Queryable, number: number) {
  return correctionWhere(db, { number });
}

export interface CorrectionMove {
  state: CorrectionState;
  computedAt?: Date;
  fingerprint?: string | null;
  fault?: string | null;
  decidedAt?: Date;
  decidedById?: string | null;
  decision?: string;
}

/** From one of the states that allow it, and of the computation that was read where that is told; false where it was too late. */
export async function moveCorrection(
  tx: Queryable,
  id: string,
  from: CorrectionState[],
  to: CorrectionMove,
  computation?: number,
): Promise<boolean> {
  const { count } = await tx.correction.updateMany({
    where: { id, state: { in: from }, ...(computation === undefined ? {} : { computation }) },
    data: to.state === 'computing' ? { ...to, computation: { increment: 1 } } : to,
  });
  return count === 1;
}

/** The open correction of a thing, held until the transaction ends where there is none to be raced with. */
export function openCorrectionOf(db: Queryable, subjectId: string) {
  return db.correction.findFirst({
    where: { subjectId, state: { in: ['computing', 'waiting'] } },
    select: { id: true, number: true },
  });
}

export interface CorrectionFilter {
  isOpen?: boolean;
  /** Those proposed by one person, or of runs of theirs. */
  concerning?: string;
  onlyWorld?: WorldKey | undefined;
}

function listed({ isOpen, concerning, onlyWorld }: CorrectionFilter): Prisma.CorrectionWhereInput {
  return {
    ...(isOpen === undefined
      ? {}
      : { state: isOpen ? { in: ['computing', 'waiting'] } : { notIn: ['computing', 'waiting'] } }),
    ...(onlyWorld === undefined ? {} : { world: onlyWorld }),
    ...(concerning === undefined
      ? {}
      : { OR: [{ proposedById: concerning }, { runs: { some: { testerId: concerning } } }] }),
  };
}

/** From a place on: those that wait oldest first, else the newest first. */
export async function listCorrections(
  db: Queryable,
  filter: CorrectionFilter,
  place: Place<number> | undefined,
  take: number,
) {
  const direction = filter.isOpen ? 'asc' : 'desc';
  const found = await db.correction.findMany({
    where: { ...listed(filter), AND: beyondOne<Prisma.CorrectionWhereInput>('number', place, direction) },
    orderBy: { number: readingOrder(place, direction) },
    take,
    select: {
      number: true,
      kind: true,
      subjectId: true,
      world: true,
      state: true,
      reason: true,
      proposedById: true,
      proposedAt: true,
      proposedBy: { select: PERSON },
      _count: { select: { runs: true } },
    },
  });
  return found;
}

export function countCorrections(db: Queryable, filter: CorrectionFilter): Promise<number> {
  return db.correction.count({ where: listed(filter) });
}
