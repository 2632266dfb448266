import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { generateClient } from './serve/webBuild';

/** `npm run counted:check`: exit 1 where the table of counted runs is not what the wide record says. */
async function main(): Promise<number> {
  if (!existsSync(join('prisma', 'generated'))) await generateClient();
  // Loaded only now: these need the generated client.
  const { withStore } = await import('./openStore');
  const { openRegistry } = await import('@/lib/registry/openRegistry');
  const { checkCounted } = await import('@/lib/registry/counted/checkCounted');
  let isWrong = false;
  await withStore(async ({ place }) => {
    console.log(`Counted runs in ${place}`);
    for (const { world, methodVersion, approved, differences } of await checkCounted(openRegistry())) {
      console.log(`${world}: ${approved} approved runs under version ${methodVersion}`);
      for (const difference of differences) console.log(`  ${difference}`);
      isWrong ||= differences.length > 0;
    }
  });
  console.log(isWrong ? 'The table differs from the record.' : 'The table is what the record says.');
  return isWrong ? 1 : 0;
}

try {
  process.exitCode = await main();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
