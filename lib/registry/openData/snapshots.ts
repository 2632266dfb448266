import { createPublicKey } from 'node:crypto';
import type { Readable } from 'node:stream';
import { z } from 'zod';
import type { CitedSnapshot } from '@/lib/answers/citation';
import { snapshotFolder } from '@/lib/files/snapshotFolder';
import { type Licence, licenceOf } from '@/lib/openData/licences';
import { NotFound } from '@/lib/run/errors';
import { RECORD, type WorldKey, worldKey } from '@/lib/run/world';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { sealKey } from '@/lib/store/server/keptSecret';
import {
  countSnapshots,
  latestSnapshot,
  listSnapshots,
  type StoredSnapshot,
  snapshotNamed,
  snapshotsNumbered,
  worldsWithSnapshots,
} from '@/lib/store/snapshots';
import { keyIdOf } from '@/lib/trail/seal';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';
import { chosenLicence } from './licence';

export interface SnapshotView extends Omit<StoredSnapshot, 'licence' | 'world'> {
  world: WorldKey;
  licence: Licence;
  /** Rows by table less those of the snapshot before, where there is one and they differ. */
  changes: { table: string; rows: number }[] | null;
}

export interface SnapshotsView extends Page<SnapshotView> {
  world: WorldKey;
  worlds: WorldKey[];
  total: number;
  /** Of this registry. */
  signedBy: { id: string; pem: string };
  licence: Licence;
}

const PAGE_SIZE = 20;

/** What a citation names: the latest snapshot of a world, where there is one. */
export async function snapshotToCite(
  registry: Registry,
  world: WorldKey,
): Promise<CitedSnapshot | undefined> {
  const latest = await latestSnapshot(registry.db, world);
  return latest && { name: latest.name, asOf: latest.asOf };
}

/** What was published of a world, the newest first, and the key that signs it. */
export async function readSnapshots(
  registry: Registry,
  query: { world?: string | undefined; from?: string | undefined },
  dataFolder = dataFolderFromEnvironment(),
): Promise<SnapshotsView> {
  const worlds = (await worldsWithSnapshots(registry.db)).map(worldKey);
  const world =
    worlds.find((one) => one === query.world) ?? (worlds.includes(RECORD) ? RECORD : (worlds[0] ?? RECORD));
  const publicKey = createPublicKey(await sealKey(dataFolder));
  const [page, total, licence] = await Promise.all([
    readPage(query.from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.integer]),
      read: (place, take) =>
        listSnapshots(registry.db, world, place && { ...place, key: place.key[0] }, take),
      keyOf: ({ number }) => [number],
    }),
    countSnapshots(registry.db, world),
    chosenLicence(registry.db),
  ]);
  const before = await snapshotsNumbered(
    registry.db,
    world,
    page.rows.map(({ number }) => number - 1),
  );
  return {
    ...page,
    rows: page.rows.map((row) => ({ ...viewOf(row), changes: changesOf(row, before.get(row.number - 1)) })),
    world,
    worlds,
    total,
    licence,
    signedBy: {
      id: keyIdOf(publicKey),
      pem: publicKey.export({ type: 'spki', format: 'pem' }).toString().trim(),
    },
  };
}

function viewOf({ world, licence, ...rest }: StoredSnapshot): Omit<SnapshotView, 'changes'> {
  return { ...rest, world: worldKey(world), licence: licenceOf(licence) };
}

function changesOf({ rows }: StoredSnapshot, before: StoredSnapshot | undefined): SnapshotView['changes'] {
  if (before === undefined) return null;
  const tables = new Set([...Object.keys(before.rows), ...Object.keys(rows)]);
  return [...tables]
    .map((table) => ({ table, rows: (rows[table] ?? 0) - (before.rows[table] ?? 0) }))
    .filter((change) => change.rows !== 0);
}

export interface SnapshotDownload {
  name: string;
  sha256: string;
  sizeBytes: number;
  publishedAt: Date;
  stream: () => Readable;
}

const nameSchema = z
  .string()
  .max(120)
  .regex(/^[a-z0-9-]+$/);

/** The file of a published snapshot, to be streamed; `NotFound` where there is none of the name. */
export async function openSnapshot(
  registry: Registry,
  name: string,
  dataFolder = dataFolderFromEnvironment(),
): Promise<SnapshotDownload> {
  const parsed = nameSchema.safeParse(name);
  const found = parsed.success ? await snapshotNamed(registry.db, parsed.data) : undefined;
  const opened = found && (await snapshotFolder(dataFolder).open(found.sha256));
  if (found === undefined || opened === undefined) throw new NotFound('There is no snapshot of that name.');
  return { name: found.name, sha256: found.sha256, publishedAt: found.publishedAt, ...opened };
}
