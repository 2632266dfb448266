import { rm } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { checkBackup } from '@/lib/registry/backup/manifest';
import { refuseFilledFolder, restoreBackup } from '@/lib/registry/backup/restoreBackup';
import { blobStoreFromEnvironment } from '@/lib/registry/blobStoreFromEnvironment';
import { withDatabase } from './openStore';

const USAGE = 'npm run restore -- FILE --into DIR';

/** `npm run restore -- FILE --into DIR`: a backup into a new data folder, or into DATABASE_URL with its files there. */
async function main(): Promise<void> {
  const { values, positionals } = parseArgs({
    options: { into: { type: 'string' } },
    allowPositionals: true,
  });
  const [given] = positionals;
  if (given === undefined || values.into === undefined) throw new Error(USAGE);
  const [file, folder] = [resolve(given), resolve(values.into)];
  await refuseFilledFolder(folder);
  // Before a server is started for it.
  await checkBackup(file);
  process.env.EVENLOOP_DATA = folder;
  const startedAt = performance.now();
  try {
    const manifest = await withDatabase(({ connection, place }) => {
      console.log(`Restoring into ${place} …`);
      return restoreBackup(file, {
        connection,
        dataFolder: folder,
        blobs: blobStoreFromEnvironment(),
        migrationsFolder: join('prisma', 'migrations'),
        now: () => new Date(),
      });
    });
    const rows = manifest.tables.reduce((sum, table) => sum + table.rows, 0);
    const seconds = ((performance.now() - startedAt) / 1000).toFixed(1);
    console.log(`${rows} rows and ${manifest.blobs} files in ${seconds} s.`);
    console.log(`Start it with EVENLOOP_DATA=${folder}; "npm run audit:verify" checks the audit log.`);
  } catch (error) {
    // It was empty before: nothing of the attempt stays.
    await rm(folder, { recursive: true, force: true });
    throw error;
  }
}

try {
  await main();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
