import { clusterFolder } from '@/lib/store/server/cluster';
import { ensureServer } from '@/lib/store/server/ensureServer';
import { readPostmaster } from '@/lib/store/server/postmaster';

/**
 * A process of its own that uses the embedded server of a folder until it is told to end: prints one
 * line of JSON when connected, gives the server up on SIGTERM.
 */
const folder = process.argv[2];
if (!folder) throw new Error('Give the data folder.');
const server = await ensureServer(folder, { durable: false });
const postmaster = await readPostmaster(clusterFolder(server.dataFolder));
console.log(JSON.stringify({ serverPid: postmaster?.pid }));
const alive = setInterval(() => undefined, 60_000);
process.once('SIGTERM', async () => {
  await server.release();
  clearInterval(alive);
});
