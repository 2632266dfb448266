import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** One migration as it lies on disk: `<folder>/<time>_<name>/migration.sql`. */
export type MigrationFile = {
  /** Folder name, `20250131120000_first_tables`; its alphabetical order is the order of application. */
  readonly name: string;
  readonly sql: string;
  /** SHA-256 of the file's bytes, hexadecimal. */
  readonly checksum: string;
};

/** A migration that cannot be read, ordered or applied; the message says which one and what to do. */
export class MigrationError extends Error {
  override readonly name = 'MigrationError';
  readonly migration: string;

  constructor(migration: string, message: string, options?: ErrorOptions) {
    super(message, options);
    this.migration = migration;
  }
}

const migrationName = /^\d{14}_[a-z0-9_]+$/;

/**
 * Reads every migration of a folder in the order of application.
 * A folder that does not exist holds no migrations; a sub-folder with another name is refused,
 * because a misnamed migration would otherwise be left out in silence.
 */
export async function readMigrations(folder: string): Promise<MigrationFile[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [];
    throw error;
  });
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  const migrations: MigrationFile[] = [];
  for (const name of names.sort()) {
    if (!migrationName.test(name)) {
      throw new MigrationError(
        name,
        `${join(folder, name)} is not named <14 digits of time>_<lower-case name>: rename it or take it away.`,
      );
    }
    migrations.push(await readMigration(folder, name));
  }
  return migrations;
}

async function readMigration(folder: string, name: string): Promise<MigrationFile> {
  const file = join(folder, name, 'migration.sql');
  try {
    const bytes = await readFile(file);
    return { name, sql: bytes.toString('utf8'), checksum: createHash('sha256').update(bytes).digest('hex') };
  } catch (error) {
    throw new MigrationError(name, `${file} cannot be read.`, { cause: error });
  }
}
