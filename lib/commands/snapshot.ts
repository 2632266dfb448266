import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { isWorldKey, RECORD, worldWords } from '@/lib/run/world';
import { generateClient } from './serve/webBuild';

const USAGE = `npm run snapshot -- FILE.zip [--world record|demo]
  Writes everything that is public of one world into a Data Package: tables as CSV and JSON Lines with their schemas,
  signed with this registry's key. Work that waits is done first, so that all numbers are of the runs that count.`;

/** `npm run snapshot -- FILE.zip` */
async function main(): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { world: { type: 'string', default: RECORD }, help: { type: 'boolean', default: false } },
  });
  if (values.help) return console.log(USAGE);
  const [given, ...others] = positionals;
  const { world } = values;
  if (given === undefined || others.length > 0 || !isWorldKey(world)) throw new Error(USAGE);
  const file = resolve(given);
  if (existsSync(file)) throw new Error(`${file} is there already: name another file.`);
  if (!existsSync(join('prisma', 'generated'))) await generateClient();
  // Loaded only now: these need the generated client.
  const { withStore } = await import('./openStore');
  const { connectionFromEnvironment } = await import('@/lib/store/connection');
  const { openRegistry } = await import('@/lib/registry/openRegistry');
  const { runJobsNow } = await import('@/lib/registry/runJobs');
  const { snapshotSource } = await import('@/lib/registry/openData/snapshotSource');
  const { writeSnapshot } = await import('@/lib/registry/openData/writeSnapshot');
  await withStore(async ({ place }) => {
    console.log(`Taking a snapshot of ${worldWords(world)} in ${place} …`);
    const registry = openRegistry();
    await runJobsNow(registry);
    const { connection, release } = await connectionFromEnvironment();
    try {
      const startedAt = performance.now();
      const written = await writeSnapshot(await snapshotSource(registry, world, connection), file);
      const rows = Object.values(written.rows).reduce((sum, count) => sum + count, 0);
      const seconds = ((performance.now() - startedAt) / 1000).toFixed(1);
      const megabytes = (written.sizeBytes / 1e6).toFixed(1);
      // In kilobytes (getrusage): the most that the process ever held.
      const memory = (process.resourceUsage().maxRSS / 1024).toFixed(0);
      console.log(`${file}: ${written.name}`);
      console.log(
        `${rows} rows of ${written.rows.runs} runs, ${megabytes} MB in ${seconds} s, at most ${memory} MB of memory.`,
      );
      console.log(`SHA-256 ${written.sha256}`);
    } finally {
      await release();
    }
  });
}

try {
  await main();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
