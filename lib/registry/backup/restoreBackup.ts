import { appendFile, mkdir, readdir, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { finished } from 'node:stream/promises';
import pg from 'pg';
import { type Member, readArchive } from '@/lib/files/archive';
import { type BlobStore, isSha256 } from '@/lib/files/blobStore';
import { SEAL_HEADS_FILE } from '@/lib/files/sealHeads';
import { SNAPSHOT_FOLDER } from '@/lib/files/snapshotFolder';
import {
  type CopiedTable,
  copyIn,
  countRows,
  filledTables,
  migrationsOf,
  setSequence,
  withoutConstraints,
} from '@/lib/store/copyTables';
import { applyMigrations } from '@/lib/store/migrate/applyMigrations';
import { readMigrations } from '@/lib/store/migrate/migrationFolder';
import { SEAL_KEY_FILE, SECRET_FILE } from '@/lib/store/server/keptSecret';
import { type About, BadBackup, checkBackup, type Manifest } from './manifest';

export interface RestoreTarget {
  connection: pg.ClientConfig;
  /** Where secret, key and heads go. */
  dataFolder: string;
  blobs: BlobStore;
  migrationsFolder: string;
  now: () => Date;
}

/** What is there already is never written over. */
export class TargetNotEmpty extends Error {
  override readonly name = 'TargetNotEmpty';
}

/** Throws where the folder holds a registry's files. Asked before a server is started in it, which would fill it. */
export async function refuseFilledFolder(folder: string): Promise<void> {
  const entries = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [];
    throw error;
  });
  if (entries.length > 0)
    throw new TargetNotEmpty(`${folder} is not empty: name a folder that is not there yet, or an empty one.`);
}

/**
 * Puts a backup into an empty database and a data folder. The whole file is verified first; the schema is brought to
 * where it was when the backup was made, the rows are written in one transaction, with their counts compared at its end,
 * and then the migrations that have come since are applied.
 */
export async function restoreBackup(file: string, target: RestoreTarget): Promise<Manifest> {
  const { about, manifest } = await checkBackup(file);
  await refuseUnknownMigrations(about, target.migrationsFolder);
  const client = new pg.Client({ ...target.connection, application_name: 'evenloop restore' });
  await client.connect();
  try {
    await refuseFilledDatabase(client, about);
    await applyMigrations(target.connection, target.migrationsFolder, about.migrations.at(-1)?.name);
    const files = await loadAll(client, { file, about, manifest, target });
    await files.keep();
    await applyMigrations(target.connection, target.migrationsFolder);
    await client.query('ANALYZE');
    await client.query(
      `INSERT INTO "AuditEntry" ("at", "action", "subjectKind", "subjectId", "details")
       VALUES ($1, 'registry.restore', 'registry', 'all', $2)`,
      [target.now(), { madeAt: about.madeAt }],
    );
    return manifest;
  } finally {
    await client.end();
  }
}

async function refuseUnknownMigrations(about: About, folder: string): Promise<void> {
  const known = new Map((await readMigrations(folder)).map(({ name, checksum }) => [name, checksum]));
  const unknown = about.migrations.find(({ name, checksum }) => known.get(name) !== checksum);
  if (unknown === undefined && about.migrations.length > 0) return;
  throw new BadBackup(
    `The backup was made by another version of the app: this one does not know its migration ${unknown?.name ?? '(none)'}. ` +
      'Restore it with the version that made it, or a later one.',
  );
}

async function refuseFilledDatabase(client: pg.Client, about: About): Promise<void> {
  const filled = await filledTables(client);
  if (filled.length > 0)
    throw new TargetNotEmpty(`The database is not empty (${filled.join(', ')}): name an empty one.`);
  const expected = new Set(about.migrations.map(({ name }) => name));
  const beyond = (await migrationsOf(client)).find(({ name }) => !expected.has(name));
  if (beyond !== undefined)
    throw new TargetNotEmpty(
      `The database has migration ${beyond.name}, which came after the backup: name one without tables.`,
    );
}

interface Load {
  file: string;
  about: About;
  manifest: Manifest;
  target: RestoreTarget;
}

async function loadAll(client: pg.Client, { file, about, manifest, target }: Load): Promise<RestoredFiles> {
  const files = new RestoredFiles(target.dataFolder);
  const tables = new Map(about.tables.map((table) => [table.name, table]));
  await client.query('BEGIN');
  try {
    await withoutConstraints(client, about.tables, async () => {
      const rows = new RowLoader(client, tables);
      for await (const member of readArchive(file)) {
        const [kind, name = ''] = member.name.split('/');
        if (kind === 'tables') await rows.take(name, member.bytes);
        else await rows.end();
        if (kind === 'files') await files.take(name, member);
        if (kind === 'snapshots') await files.takeSnapshot(name, member);
        if (kind === 'blobs' && isSha256(name) && (await target.blobs.put(member.bytes)) !== name)
          throw new BadBackup(`The file ${name} is not what its name says.`);
      }
      await rows.end();
    });
    for (const sequence of manifest.sequences) await setSequence(client, sequence);
    for (const { name, rows } of manifest.tables) {
      const there = await countRows(client, name);
      if (there !== rows) throw new BadBackup(`${name}: ${there} rows were restored of ${rows}.`);
    }
    await client.query('COMMIT');
    return files;
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    await files.forget();
    throw error;
  }
}

/** Rows of one table after the other, each by one COPY over all of its parts. */
class RowLoader {
  readonly #client: pg.Client;
  readonly #tables: ReadonlyMap<string, CopiedTable>;
  #open: { name: string; stream: ReturnType<typeof copyIn>; done: Promise<void> } | undefined;

  constructor(client: pg.Client, tables: ReadonlyMap<string, CopiedTable>) {
    this.#client = client;
    this.#tables = tables;
  }

  async take(name: string, bytes: Buffer): Promise<void> {
    if (this.#open?.name !== name) {
      await this.end();
      const table = this.#tables.get(name);
      if (table === undefined) throw new BadBackup(`The table ${name} is not among those of the backup.`);
      const stream = copyIn(this.#client, table);
      const done = finished(stream);
      // Told where the next part is written or the table ended.
      done.catch(() => undefined);
      this.#open = { name, stream, done };
    }
    const { stream, done } = this.#open;
    await Promise.race([
      new Promise<void>((resolve, reject) => {
        stream.write(bytes, (error) => (error ? reject(error) : resolve()));
      }),
      done,
    ]);
  }

  async end(): Promise<void> {
    const open = this.#open;
    this.#open = undefined;
    if (open === undefined) return;
    open.stream.end();
    await open.done;
  }
}

/** Files of the data folder: written aside, and named once the rows are there. */
class RestoredFiles {
  readonly #folder: string;
  readonly #taken = new Set<string>();

  constructor(folder: string) {
    this.#folder = folder;
  }

  async take(name: string, { bytes }: Member): Promise<void> {
    if (![SECRET_FILE, SEAL_KEY_FILE, SEAL_HEADS_FILE].includes(name))
      throw new BadBackup(`The file ${name} is none of a registry.`);
    await this.#write(name, bytes);
  }

  async takeSnapshot(digest: string, { bytes }: Member): Promise<void> {
    if (!isSha256(digest)) throw new BadBackup(`${digest} is no name of a snapshot.`);
    await mkdir(join(this.#folder, SNAPSHOT_FOLDER), { recursive: true, mode: 0o700 });
    await this.#write(join(SNAPSHOT_FOLDER, `${digest}.zip`), bytes);
  }

  async #write(name: string, bytes: Buffer): Promise<void> {
    await mkdir(this.#folder, { recursive: true, mode: 0o700 });
    const write = this.#taken.has(name) ? appendFile : writeFile;
    await write(this.#aside(name), bytes, { mode: 0o600 });
    this.#taken.add(name);
  }

  async keep(): Promise<void> {
    for (const name of this.#taken) await rename(this.#aside(name), join(this.#folder, name));
  }

  async forget(): Promise<void> {
    for (const name of this.#taken) await rm(this.#aside(name), { force: true });
  }

  #aside(name: string): string {
    return join(this.#folder, `${name}.restoring`);
  }
}
