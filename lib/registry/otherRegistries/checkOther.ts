import { createPublicKey } from 'node:crypto';
import { openZip } from '@/lib/files/zipReader';
import type { Row } from '@/lib/openData/column';
import { KEPT, type KeptTable, keptRow } from '@/lib/openData/other/kept';
import { appendAudit } from '@/lib/store/audit';
import { enqueueJob } from '@/lib/store/jobs';
import {
  clearOtherRows,
  insertOtherRows,
  moveOtherSnapshot,
  otherRegistry,
  otherSnapshot,
  otherSnapshotIn,
  type StoredOtherSnapshot,
  waitingOtherFiles,
} from '@/lib/store/otherRegistries';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { type Verification, verifySnapshot } from '../openData/verifySnapshot';
import { rowsOf } from '../openData/zipMembers';
import type { Registry } from '../registry';
import { incomingFolder } from './receive';

/** Takes away rows and files of what nobody is shown any more. */
export const CLEAR_OTHER_JOB = 'clearOther';
/** So that a page that is being made finds what it began with. */
const CLEAR_AFTER_MS = 60_000;

/**
 * Verifies every number of a snapshot of another registry by the key that was accepted for it, and only then keeps what
 * its pages are read from and shows it, in place of an older one, in one transaction. What does not verify is refused
 * with the first thing that is wrong, and leaves what is shown as it is.
 */
export async function checkOther(
  registry: Registry,
  snapshotId: string,
  report: (done: number, of: number) => void = () => undefined,
  dataFolder = dataFolderFromEnvironment(),
): Promise<void> {
  const snapshot = await otherSnapshot(registry.db, snapshotId);
  if (snapshot?.state !== 'checking') return;
  const folder = incomingFolder(dataFolder);
  const file = folder.fileOf(snapshot.sha256);
  const accepted = (await otherRegistry(registry.db, snapshot.world))?.publicKey ?? null;
  const wrong =
    accepted === null
      ? 'No key is accepted for its registry any more.'
      : whyNot(await verified(file, accepted, report), snapshot);
  if (wrong !== undefined) await refuse(registry, snapshot, wrong);
  else {
    // An attempt before this one may have kept some.
    await clear(registry, snapshotId);
    await keepRows(registry, snapshot, file);
    await show(registry, snapshot);
  }
  await folder.forget(file);
}

type Checked = Pick<Verification, 'name' | 'count' | 'differences' | 'notRecomputed'>;

async function verified(
  file: string,
  publicKey: string,
  onRun: (done: number, of: number) => void,
): Promise<Checked> {
  try {
    return await verifySnapshot(file, { trusted: [createPublicKey(publicKey)], onRun });
  } catch (error) {
    // What cannot be read to its end is not verified, whatever is in the way.
    const says = error instanceof Error ? error.message : String(error);
    return { count: 1, differences: [{ where: 'the file', row: '', column: '', says }] };
  }
}

/** Why it is refused, in words; undefined where every number of it is what its runs say. */
function whyNot({ name, count, differences, notRecomputed }: Checked, of: StoredOtherSnapshot) {
  const [first] = differences;
  if (first !== undefined) {
    const { where, row, column, says } = first;
    const at = [where, row, column].filter((part) => part !== '').join(' · ');
    return `${at}: ${says}.${count > 1 ? ` ${count - 1} more ${count === 2 ? 'thing is' : 'things are'} not as they have to be.` : ''}`;
  }
  if (notRecomputed !== undefined) return `Its numbers cannot be computed again here: ${notRecomputed}.`;
  return name === of.name ? undefined : 'The file is not the one that was received.';
}

async function refuse(registry: Registry, { id, world, name }: StoredOtherSnapshot, says: string) {
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    if (!(await moveOtherSnapshot(tx, id, 'checking', { state: 'refused', says, endedAt: at }))) return;
    await enqueueJob(tx, CLEAR_OTHER_JOB, 'all', at);
    await appendAudit(tx, {
      at,
      actorId: undefined,
      action: 'otherRegistry.refuse',
      subjectKind: 'otherRegistry',
      subjectId: world,
      details: { snapshot: name, says: says.slice(0, 500) },
    });
  });
}

/** So many rows in one transaction. */
const BATCH = 500;

async function keepRows(registry: Registry, { id }: StoredOtherSnapshot, file: string): Promise<void> {
  const zip = await openZip(file);
  try {
    for (const kept of KEPT) await keepTable(registry, id, kept, rowsOf(zip, kept.table));
  } finally {
    zip.close();
  }
}

async function keepTable(registry: Registry, snapshotId: string, kept: KeptTable, rows: AsyncIterable<Row>) {
  let from = 1;
  let batch: Row[] = [];
  const write = async () => {
    const its = batch.map((row) => keptRow(kept, row));
    batch = [];
    await registry.db.$transaction((tx) =>
      insertOtherRows(tx, { snapshotId, table: kept.table.name, from }, its),
    );
    from += its.length;
  };
  for await (const row of rows) {
    batch.push(row);
    if (batch.length === BATCH) await write();
  }
  if (batch.length > 0) await write();
}

async function show(registry: Registry, { id, world, name, keyId }: StoredOtherSnapshot): Promise<void> {
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const before = await otherSnapshotIn(tx, world, ['shown']);
    if (before !== undefined)
      await moveOtherSnapshot(tx, before.id, 'shown', { state: 'replaced', endedAt: at });
    if (!(await moveOtherSnapshot(tx, id, 'checking', { state: 'shown' })))
      throw new Error('this snapshot is not being checked any more');
    await enqueueJob(tx, CLEAR_OTHER_JOB, 'all', new Date(at.getTime() + CLEAR_AFTER_MS));
    await appendAudit(tx, {
      at,
      actorId: undefined,
      action: 'otherRegistry.show',
      subjectKind: 'otherRegistry',
      subjectId: world,
      details: { snapshot: name, keyId, inPlaceOf: before?.name ?? '' },
    });
  });
}

/** So many rows are taken away at once. */
const CLEARED = 5000;

async function clear(registry: Registry, also: string | null): Promise<void> {
  while ((await registry.db.$transaction((tx) => clearOtherRows(tx, also, CLEARED))) > 0);
}

/** What comes in is kept before a row names it. */
const SPARED_MS = 60 * 60_000;

/** The rows of what was replaced, refused or removed, and the files of all that waits for nothing. */
export async function clearOther(
  registry: Registry,
  dataFolder = dataFolderFromEnvironment(),
): Promise<void> {
  await clear(registry, null);
  const waiting = new Set(await waitingOtherFiles(registry.db));
  await incomingFolder(dataFolder).sweep(
    (digest) => waiting.has(digest),
    new Date(registry.now().getTime() - SPARED_MS),
  );
}
