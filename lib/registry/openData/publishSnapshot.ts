import { createPublicKey } from 'node:crypto';
import type { Sha256 } from '@/lib/files/blobStore';
import { snapshotFolder } from '@/lib/files/snapshotFolder';
import { WORLDS, type WorldKey, worldWords } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { connectionFromEnvironment } from '@/lib/store/connection';
import { countedLabelOf } from '@/lib/store/countedRuns';
import { enqueueJob } from '@/lib/store/jobs';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { insertSnapshot, latestSnapshot } from '@/lib/store/snapshots';
import { keyIdOf } from '@/lib/trail/seal';
import type { Registry } from '../registry';
import { snapshotSource } from './snapshotSource';
import { verifySnapshot } from './verifySnapshot';
import { NotSettled, type SnapshotSource, writeSnapshot } from './writeSnapshot';

/** Once a day: a snapshot of each world in which something changed. */
export const SNAPSHOT_JOB = 'snapshot';

/** A fit takes a minute at most; what failed is tried again by its own job. */
const ASK_AGAIN_MS = 15 * 60_000;

export interface SnapshotPlace {
  dataFolder: string;
  sourceOf: (world: WorldKey) => Promise<SnapshotSource>;
}

/** Publishes what changed in each world; where numbers are being computed at this moment, the job asks for itself again. */
export async function publishSnapshots(registry: Registry): Promise<void> {
  const { connection, release } = await connectionFromEnvironment();
  try {
    const place: SnapshotPlace = {
      dataFolder: dataFolderFromEnvironment(),
      sourceOf: (world) => snapshotSource(registry, world, connection),
    };
    for (const world of WORLDS) await publishSnapshot(registry, world, place);
  } finally {
    await release();
  }
}

export type Publication = { outcome: 'published'; number: number } | { outcome: 'unchanged' | 'notYet' };

/**
 * Writes a snapshot of a world, verifies every number in it, and publishes it where it holds other rows than the one
 * before. A snapshot that does not verify is not published: the job fails with the first thing that is wrong.
 */
export async function publishSnapshot(
  registry: Registry,
  world: WorldKey,
  { dataFolder, sourceOf }: SnapshotPlace,
): Promise<Publication> {
  if ((await countedLabelOf(registry.db, world)) === undefined) return { outcome: 'notYet' };
  const folder = snapshotFolder(dataFolder);
  const file = await folder.newFile();
  const source = await sourceOf(world);
  try {
    const written = await writeSnapshot(source, file);
    const before = await latestSnapshot(registry.db, world);
    if (before?.dataSha256 === written.dataSha256 && before.licence === source.licence.value)
      return { outcome: 'unchanged' };
    const publicKey = createPublicKey(source.privateKey);
    const { count, differences, notRecomputed } = await verifySnapshot(file, { trusted: [publicKey] });
    const [wrong] = differences;
    if (wrong !== undefined || notRecomputed !== undefined)
      throw new Error(
        `the snapshot of ${worldWords(world)} does not verify (${count}): ` +
          `${wrong === undefined ? notRecomputed : `${wrong.where} ${wrong.row} ${wrong.column}: ${wrong.says}`}`,
      );
    await folder.keep(file, written.sha256 as Sha256);
    const { name, sha256, sizeBytes, dataSha256, rows, about } = written;
    const publishedAt = registry.now();
    const number = await registry.db.$transaction(async (tx) => {
      await appendAudit(tx, {
        at: publishedAt,
        actorId: undefined,
        action: 'snapshot.publish',
        subjectKind: 'snapshot',
        subjectId: name,
        details: { sha256 },
      });
      return insertSnapshot(tx, {
        world,
        name,
        sha256,
        sizeBytes,
        dataSha256,
        rows,
        keyId: keyIdOf(publicKey),
        methodVersion: about.methodVersion,
        licence: about.licence.value,
        asOf: new Date(about.asOf),
        publishedAt,
      });
    });
    return { outcome: 'published', number };
  } catch (error) {
    if (!(error instanceof NotSettled)) throw error;
    const again = new Date(registry.now().getTime() + ASK_AGAIN_MS);
    await registry.db.$transaction((tx) => enqueueJob(tx, SNAPSHOT_JOB, 'all', again));
    return { outcome: 'notYet' };
  } finally {
    await folder.forget(file);
  }
}
