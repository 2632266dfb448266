import { existsSync } from 'node:fs';
import { stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { noteBackup } from '@/lib/files/lastBackup';
import { writeBackup } from '@/lib/registry/backup/writeBackup';
import { blobStoreFromEnvironment } from '@/lib/registry/blobStoreFromEnvironment';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { withDatabase } from './openStore';

/** `npm run backup -- FILE`: the whole registry in one file, while it runs. */
async function main(): Promise<void> {
  const [given] = process.argv.slice(2);
  if (given === undefined || given.startsWith('-')) throw new Error('npm run backup -- FILE');
  const file = resolve(given);
  if (existsSync(file)) throw new Error(`${file} is there already: name another file.`);
  const [startedAt, startedOn] = [performance.now(), new Date()];
  const manifest = await withDatabase(({ connection, place }) => {
    console.log(`Backing up ${place} …`);
    return writeBackup(
      {
        connection,
        dataFolder: dataFolderFromEnvironment(),
        blobs: blobStoreFromEnvironment(),
        now: () => new Date(),
      },
      file,
    );
  });
  await noteBackup(dataFolderFromEnvironment(), startedOn);
  const rows = manifest.tables.reduce((sum, table) => sum + table.rows, 0);
  const megabytes = ((await stat(file)).size / 1e6).toFixed(1);
  const seconds = ((performance.now() - startedAt) / 1000).toFixed(1);
  console.log(
    `${file}: ${rows} rows of ${manifest.tables.length} tables, ${manifest.blobs} files and ${manifest.snapshots} snapshots, ${megabytes} MB in ${seconds} s, read again and found whole.`,
  );
  console.log('It holds the secret, the key and password hashes: keep it as you keep those.');
  const missing = [...manifest.missingBlobs, ...manifest.missingSnapshots];
  if (missing.length > 0)
    console.error(
      `${missing.length} files that rows name could not be had: ${missing.slice(0, 5).join(', ')}`,
    );
}

try {
  await main();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
