import { z } from 'zod';
import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { beyondOne, type Place, readingOrder } from './keyset';

/** Snapshots that were published; their files lie in the data folder by their digests. */

export interface NewSnapshot {
  world: WorldKey;
  name: string;
  sha256: string;
  sizeBytes: number;
  dataSha256: string;
  keyId: string;
  methodVersion: string;
  licence: string;
  asOf: Date;
  publishedAt: Date;
  rows: Record<string, number>;
}

/** As the next of its world; fails by the key where another one was published meanwhile. */
export async function insertSnapshot(tx: Queryable, snapshot: NewSnapshot): Promise<number> {
  const { world, sizeBytes, rows, ...data } = snapshot;
  const last = await latestSnapshot(tx, world);
  const { number } = await tx.snapshot.create({
    data: {
      ...data,
      world,
      number: (last?.number ?? 0) + 1,
      sizeBytes: BigInt(sizeBytes),
      rows: { ...rows },
    },
    select: { number: true },
  });
  return number;
}

const LISTED = {
  world: true,
  number: true,
  name: true,
  sha256: true,
  sizeBytes: true,
  dataSha256: true,
  keyId: true,
  methodVersion: true,
  licence: true,
  asOf: true,
  publishedAt: true,
  rows: true,
} as const satisfies Prisma.SnapshotSelect;

const counts = z.record(z.string(), z.int());

function read<Stored extends { sizeBytes: bigint; rows: unknown }>({ sizeBytes, rows, ...rest }: Stored) {
  return { ...rest, sizeBytes: Number(sizeBytes), rows: counts.safeParse(rows).data ?? {} };
}

export type StoredSnapshot = ReturnType<typeof read<Prisma.SnapshotGetPayload<{ select: typeof LISTED }>>>;

export async function latestSnapshot(db: Queryable, world: WorldKey): Promise<StoredSnapshot | undefined> {
  const found = await db.snapshot.findFirst({
    where: { world },
    orderBy: { number: 'desc' },
    select: LISTED,
  });
  return found === null ? undefined : read(found);
}

export async function snapshotNamed(db: Queryable, name: string): Promise<StoredSnapshot | undefined> {
  const found = await db.snapshot.findUnique({ where: { name }, select: LISTED });
  return found === null ? undefined : read(found);
}

/** Snapshots of a world, the newest first, from a place on. */
export async function listSnapshots(
  db: Queryable,
  world: WorldKey,
  place: Place<number> | undefined,
  take: number,
): Promise<StoredSnapshot[]> {
  const found = await db.snapshot.findMany({
    where: { world, AND: beyondOne<Prisma.SnapshotWhereInput>('number', place, 'desc') },
    orderBy: { number: readingOrder(place, 'desc') },
    take,
    select: LISTED,
  });
  return found.map(read);
}

/** Of the snapshot before each, for what was added since. */
export async function snapshotsNumbered(
  db: Queryable,
  world: WorldKey,
  numbers: readonly number[],
): Promise<Map<number, StoredSnapshot>> {
  const found = await db.snapshot.findMany({
    where: { world, number: { in: [...numbers] } },
    select: LISTED,
  });
  return new Map(found.map((snapshot) => [snapshot.number, read(snapshot)]));
}

export function countSnapshots(db: Queryable, world: WorldKey): Promise<number> {
  return db.snapshot.count({ where: { world } });
}

/** The worlds of which there is one. */
export async function worldsWithSnapshots(db: Queryable): Promise<string[]> {
  const rows = await db.snapshot.groupBy({ by: ['world'], orderBy: { world: 'asc' } });
  return rows.map(({ world }) => world);
}
