import { readFile, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import pg from 'pg';
import { type Member, type MemberSum, sumOf, writeArchive } from '@/lib/files/archive';
import { type BlobStore, isSha256 } from '@/lib/files/blobStore';
import { headsIn, SEAL_HEADS_FILE } from '@/lib/files/sealHeads';
import { snapshotFolder } from '@/lib/files/snapshotFolder';
import { copyOut, migrationsOf, NAMED_FILES, sequencesOf, tablesOf } from '@/lib/store/copyTables';
import { fetchedRows } from '@/lib/store/fetchedRows';
import { SEAL_KEY_FILE, SECRET_FILE } from '@/lib/store/server/keptSecret';
import { sealLine } from '@/lib/trail/seal';
import { ABOUT, checkBackup, jsonMember, MANIFEST, type Manifest } from './manifest';

/** Of a table or of the file of heads: what is held in memory at a time. */
const PART_BYTES = 4 * 1024 * 1024;

export interface BackupSource {
  connection: pg.ClientConfig;
  dataFolder: string;
  blobs: BlobStore;
  now: () => Date;
}

/**
 * Writes the whole registry into one file and reads that file again to the end before it gets its name. All tables are
 * copied in one transaction, as they were at one moment, while others write. Files are named by their content: those
 * that the copied rows name are as they were, too.
 */
export async function writeBackup(source: BackupSource, file: string): Promise<Manifest> {
  const unfinished = `${file}.unfinished`;
  const client = new pg.Client({ ...source.connection, application_name: 'evenloop backup' });
  await client.connect();
  try {
    await recordBackup(client, source.now());
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    await writeArchive(unfinished, (add) => fill(client, source, add));
    await client.query('COMMIT');
    const { manifest } = await checkBackup(unfinished);
    await rename(unfinished, file);
    return manifest;
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  } finally {
    await client.end();
  }
}

/** A backup takes everything out, so the log says so; before the copy, so that the copy says it, too. */
async function recordBackup(client: pg.Client, at: Date): Promise<void> {
  await client.query(
    `INSERT INTO "AuditEntry" ("at", "action", "subjectKind", "subjectId") VALUES ($1, 'registry.backUp', 'registry', 'all')`,
    [at],
  );
}

async function fill(
  client: pg.Client,
  { dataFolder, blobs, now }: BackupSource,
  add: (member: Member) => Promise<void>,
): Promise<void> {
  const members: MemberSum[] = [];
  const put = async (member: Member) => {
    members.push(sumOf(member));
    await add(member);
  };
  const tables = await tablesOf(client);
  await put(
    jsonMember(ABOUT, {
      format: 'evenloop backup 1',
      madeAt: now().toISOString(),
      migrations: await migrationsOf(client),
      tables,
    }),
  );
  const counts: Manifest['tables'] = [];
  for (const table of tables) {
    const parts = copyOut(client, table, PART_BYTES);
    let part = await parts.next();
    for (let index = 0; !part.done; index += 1) {
      await put({ name: partName(`tables/${table.name}`, index), bytes: part.value });
      part = await parts.next();
    }
    counts.push({ name: table.name, rows: part.value });
  }
  const sequences = await sequencesOf(client);
  await putHeads(client, dataFolder, put);
  for (const name of [SECRET_FILE, SEAL_KEY_FILE]) {
    const bytes = await readFile(join(dataFolder, name)).catch(nullWhenAbsent);
    if (bytes !== null) await put({ name: `files/${name}`, bytes });
  }
  const missingBlobs: string[] = [];
  let blobCount = 0;
  for await (const { digest } of fetchedRows<{ digest: string }>(client, 'named_files', NAMED_FILES)) {
    const bytes = isSha256(digest) ? await blobs.get(digest) : null;
    if (bytes === null) {
      missingBlobs.push(digest);
      continue;
    }
    await put({ name: `blobs/${digest}`, bytes: Buffer.from(bytes) });
    blobCount += 1;
  }
  const snapshots = await putSnapshots(client, dataFolder, put);
  const manifest: Manifest = {
    tables: counts,
    sequences,
    blobs: blobCount,
    missingBlobs,
    ...snapshots,
    members,
  };
  await add(jsonMember(MANIFEST, manifest));
}

/** Citations name snapshots, and nothing makes the same one again once the record has gone on: they are kept like photos. */
async function putSnapshots(
  client: pg.Client,
  dataFolder: string,
  put: (member: Member) => Promise<void>,
): Promise<Pick<Manifest, 'snapshots' | 'missingSnapshots'>> {
  const missingSnapshots: string[] = [];
  if (!(await hasTable(client, 'Snapshot'))) return { snapshots: 0, missingSnapshots };
  const folder = snapshotFolder(dataFolder);
  let snapshots = 0;
  const named = 'SELECT "sha256" AS "digest" FROM "Snapshot"';
  for await (const { digest } of fetchedRows<{ digest: string }>(client, 'named_snapshots', named)) {
    const found = await folder.open(digest);
    if (found === undefined) {
      missingSnapshots.push(digest);
      continue;
    }
    let index = 0;
    for await (const bytes of found.stream(PART_BYTES)) {
      await put({ name: partName(`snapshots/${digest}`, index), bytes });
      index += 1;
    }
    snapshots += 1;
  }
  return { snapshots, missingSnapshots };
}

/** A backup is made before an upgrade, too: the database may be older than this code. */
async function hasTable(client: pg.Client, name: string): Promise<boolean> {
  const { rows } = await client.query<{ isThere: boolean }>(
    `SELECT to_regclass($1) IS NOT NULL AS "isThere"`,
    [pg.escapeIdentifier(name)],
  );
  return rows[0]?.isThere ?? false;
}

/** The heads up to the last seal that is in the copy: what was sealed meanwhile is in neither. */
async function putHeads(
  client: pg.Client,
  dataFolder: string,
  put: (member: Member) => Promise<void>,
): Promise<void> {
  if (!(await hasTable(client, 'AuditSeal'))) return;
  const latest = await client.query<{ last: number | null }>(
    'SELECT max("number") AS "last" FROM "AuditSeal"',
  );
  const last = latest.rows[0]?.last ?? -1;
  let waiting: Buffer[] = [];
  let bytes = 0;
  let index = 0;
  const flush = async () => {
    const whole = Buffer.concat(waiting);
    for (let from = 0; from < whole.byteLength; from += PART_BYTES) {
      await put({
        name: partName(`files/${SEAL_HEADS_FILE}`, index),
        bytes: whole.subarray(from, from + PART_BYTES),
      });
      index += 1;
    }
    waiting = [];
    bytes = 0;
  };
  for await (const seal of headsIn(dataFolder).read()) {
    if (seal === undefined || seal.number > last) continue;
    const line = Buffer.from(`${sealLine(seal)}\n`);
    waiting.push(line);
    bytes += line.byteLength;
    if (bytes >= PART_BYTES) await flush();
  }
  await flush();
}

function partName(of: string, index: number): string {
  return `${of}/${String(index).padStart(6, '0')}`;
}

function nullWhenAbsent(error: NodeJS.ErrnoException): null {
  if (error.code === 'ENOENT') return null;
  throw error;
}
