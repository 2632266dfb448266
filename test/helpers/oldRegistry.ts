import { cp, readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { gunzipSync } from 'node:zlib';
import pg from 'pg';
import { applyMigrations } from '@/lib/store/migrate/applyMigrations';

const folder = resolve(import.meta.dirname, '../reference/registry-0.1.0');
const migrations = resolve(import.meta.dirname, '../../prisma/migrations');

/** Of every account of the old registry. */
export const OLD_PASSWORD = 'this password is only for tests';

/** One account of each role; the tester's are the odd drafts and runs. */
export const OLD_PEOPLE = {
  reader: 'iben@registry.example',
  tester: 'mira@registry.example',
  otherTester: 'jonas@registry.example',
  reviewer: 'ada@registry.example',
  steward: 'sol@registry.example',
} as const;

/** Writes the registry of version 0.1.0 into an empty database and brings it up to date; gives the migrations applied. */
export async function restoreOldRegistry(connection: pg.ClientConfig): Promise<readonly string[]> {
  const dump = gunzipSync(await readFile(resolve(folder, 'registry.sql.gz'))).toString('utf8');
  const client = new pg.Client(connection);
  await client.connect();
  try {
    await client.query(dump);
  } finally {
    await client.end();
  }
  return applyMigrations(connection, migrations);
}

/** Its photos, recordings and sheets, as the folder of blobs that a registry may then write to. */
export async function copyOldBlobs(to: string): Promise<void> {
  await cp(resolve(folder, 'blobs'), to, { recursive: true });
}
