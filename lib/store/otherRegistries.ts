import { z } from 'zod';
import type { KeptRow } from '@/lib/openData/other/kept';
import type { WorldKey } from '@/lib/run/world';
import type { OtherSnapshotState, Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import type { Queryable } from './database';
import { beyondOne, type Place, readingOrder } from './keyset';

/**
 * What is shown of other registries. Everything here has tables of its own: nothing that counts, fits, lists or publishes
 * this registry's runs reads them, so that there is nothing to leave out.
 */

/** More than anybody looks after. */
const MOST_REGISTRIES = 50;

const REGISTRY = {
  world: true,
  origin: true,
  keyId: true,
  publicKey: true,
  keyAcceptedAt: true,
  keyReason: true,
} as const satisfies Prisma.OtherRegistrySelect;

export type StoredOtherRegistry = Prisma.OtherRegistryGetPayload<{ select: typeof REGISTRY }>;

export async function findOrInsertOther(
  db: Queryable,
  of: { world: WorldKey; origin: string },
): Promise<StoredOtherRegistry> {
  return db.otherRegistry.upsert({
    where: { world: of.world },
    create: of,
    update: {},
    select: REGISTRY,
  });
}

export function otherRegistry(db: Queryable, world: string): Promise<StoredOtherRegistry | null> {
  return db.otherRegistry.findUnique({ where: { world }, select: REGISTRY });
}

export function otherRegistries(db: Queryable): Promise<StoredOtherRegistry[]> {
  return db.otherRegistry.findMany({ orderBy: { origin: 'asc' }, take: MOST_REGISTRIES, select: REGISTRY });
}

export function countOtherRegistries(db: Queryable): Promise<number> {
  return db.otherRegistry.count();
}

export { MOST_REGISTRIES };

export interface AcceptedKey {
  keyId: string;
  publicKey: string;
  keyAcceptedAt: Date;
  keyReason: string;
}

/** In place of the key that was seen; false where another one is accepted by now. */
export async function acceptKeyOf(
  tx: Queryable,
  world: string,
  seen: string | null,
  key: AcceptedKey,
): Promise<boolean> {
  const { count } = await tx.otherRegistry.updateMany({ where: { world, keyId: seen }, data: key });
  return count === 1;
}

export async function forgetKeyOf(tx: Queryable, world: string): Promise<void> {
  await tx.otherRegistry.updateMany({
    where: { world },
    data: { keyId: null, publicKey: null, keyAcceptedAt: null, keyReason: null },
  });
}

const SNAPSHOT = {
  id: true,
  world: true,
  name: true,
  sha256: true,
  theirWorld: true,
  asOf: true,
  methodVersion: true,
  licence: true,
  keyId: true,
  publicKey: true,
  rows: true,
  receivedAt: true,
  state: true,
  says: true,
  endedAt: true,
} as const satisfies Prisma.OtherSnapshotSelect;

const counts = z.record(z.string(), z.int());

function read<Stored extends { rows: unknown }>({ rows, ...rest }: Stored) {
  return { ...rest, rows: counts.safeParse(rows).data ?? {} };
}

export type StoredOtherSnapshot = ReturnType<
  typeof read<Prisma.OtherSnapshotGetPayload<{ select: typeof SNAPSHOT }>>
>;

export async function insertOtherSnapshot(
  tx: Queryable,
  snapshot: Omit<Prisma.OtherSnapshotUncheckedCreateInput, 'rows' | 'id'> & { rows: Record<string, number> },
): Promise<string> {
  const { id } = await tx.otherSnapshot.create({
    data: { ...snapshot, rows: { ...snapshot.rows } },
    select: { id: true },
  });
  return id;
}

export async function otherSnapshot(db: Queryable, id: string): Promise<StoredOtherSnapshot | undefined> {
  const found = await db.otherSnapshot.findUnique({ where: { id }, select: SNAPSHOT });
  return found === null ? undefined : read(found);
}

/** The one of a registry that is shown, or the one that is looked at. */
export async function otherSnapshotIn(
  db: Queryable,
  world: string,
  states: readonly OtherSnapshotState[],
): Promise<StoredOtherSnapshot | undefined> {
  const found = await db.otherSnapshot.findFirst({
    where: { world, state: { in: [...states] } },
    select: SNAPSHOT,
  });
  return found === null ? undefined : read(found);
}

/** Of all registries, those that are shown. */
export async function shownOtherSnapshots(db: Queryable): Promise<StoredOtherSnapshot[]> {
  const found = await db.otherSnapshot.findMany({
    where: { state: 'shown' },
    orderBy: { world: 'asc' },
    take: MOST_REGISTRIES,
    select: SNAPSHOT,
  });
  return found.map(read);
}

/** What was brought here last, of all registries. */
export async function latestOtherSnapshots(db: Queryable, take: number): Promise<StoredOtherSnapshot[]> {
  const found = await db.otherSnapshot.findMany({
    orderBy: [{ receivedAt: 'desc' }, { id: 'desc' }],
    take,
    select: SNAPSHOT,
  });
  return found.map(read);
}

/** Digests of the files that are looked at: one a registry at most. */
export async function waitingOtherFiles(db: Queryable): Promise<string[]> {
  const found = await db.otherSnapshot.findMany({
    where: { state: { in: ['keyAsked', 'checking'] } },
    take: MOST_REGISTRIES,
    select: { sha256: true },
  });
  return found.map(({ sha256 }) => sha256);
}

/** False where it is no longer in the state that was seen. */
export async function moveOtherSnapshot(
  tx: Queryable,
  id: string,
  from: OtherSnapshotState,
  to: { state: OtherSnapshotState; says?: string; endedAt?: Date },
): Promise<boolean> {
  const { count } = await tx.otherSnapshot.updateMany({ where: { id, state: from }, data: to });
  return count === 1;
}

export async function insertOtherRows(
  tx: Queryable,
  of: { snapshotId: string; table: string; from: number },
  rows: readonly KeptRow[],
): Promise<void> {
  const { snapshotId, table, from } = of;
  await tx.otherRow.createMany({
    data: rows.map(({ key, under, row }, at) => ({
      snapshotId,
      table,
      place: from + at,
      key,
      under,
      row: asJson(row),
    })),
  });
}

/** So many rows of what nobody is shown, and of this one, are gone; 0 when none is left. */
export async function clearOtherRows(tx: Queryable, also: string | null, take: number): Promise<number> {
  return tx.$executeRaw`
    DELETE FROM "OtherRow" WHERE ("snapshotId", "table", "place") IN (
      SELECT one."snapshotId", one."table", one."place" FROM "OtherRow" one
      JOIN "OtherSnapshot" snapshot ON snapshot."id" = one."snapshotId"
      WHERE snapshot."state" NOT IN ('shown', 'checking') OR snapshot."id" = ${also}::uuid
      LIMIT ${take})`;
}

type OtherRow = Record<string, unknown>;
const rowsOf = (found: readonly { row: unknown }[]) => found.map(({ row }) => row as OtherRow);

/** Rows of a table by their keys. */
export async function otherRowsByKey(
  db: Queryable,
  snapshotId: string,
  table: string,
  keys: readonly string[],
): Promise<OtherRow[]> {
  if (keys.length === 0) return [];
  return rowsOf(
    await db.otherRow.findMany({
      where: { snapshotId, table, key: { in: [...keys] } },
      orderBy: { place: 'asc' },
      select: { row: true },
    }),
  );
}

/** Rows of a table by what they are under; all of a small table without it. */
export async function otherRowsUnder(
  db: Queryable,
  snapshotId: string,
  table: string,
  under: readonly string[] | undefined,
  take: number,
): Promise<OtherRow[]> {
  return rowsOf(
    await db.otherRow.findMany({
      where: { snapshotId, table, ...(under === undefined ? {} : { under: { in: [...under] } }) },
      orderBy: { place: 'asc' },
      take,
      select: { row: true },
    }),
  );
}

/** The same from a place in the table on. */
export async function otherRowsFrom(
  db: Queryable,
  of: { snapshotId: string; table: string; under: string },
  place: Place<number> | undefined,
  take: number,
): Promise<{ place: number; row: OtherRow }[]> {
  const found = await db.otherRow.findMany({
    where: { ...of, AND: beyondOne<Prisma.OtherRowWhereInput>('place', place, 'desc') },
    orderBy: { place: readingOrder(place, 'desc') },
    take,
    select: { place: true, row: true },
  });
  return found.map(({ place: at, row }) => ({ place: at, row: row as OtherRow }));
}

export function countOtherRows(
  db: Queryable,
  of: { snapshotId: string; table: string; under: string },
): Promise<number> {
  return db.otherRow.count({ where: of });
}

/** Pairs of these setups that their fit cannot tell apart, both ways round: "one other". */
export async function undecidedOthers(
  db: Queryable,
  of: { snapshotId: string; cruiseClassKey: string },
  setups: readonly string[],
): Promise<Set<string>> {
  const rows = await db.$queryRaw<{ a: string; b: string }[]>`
    SELECT "row"->>'setup_a' AS "a", "row"->>'setup_b' AS "b" FROM "OtherRow"
    WHERE "snapshotId" = ${of.snapshotId}::uuid AND "table" = 'contrasts' AND "under" = ${of.cruiseClassKey}
      AND "row"->>'word' = 'undecided'
      AND "row"->>'setup_a' = ANY(${[...setups]}) AND "row"->>'setup_b' = ANY(${[...setups]})`;
  return new Set(rows.flatMap(({ a, b }) => [`${a} ${b}`, `${b} ${a}`]));
}
