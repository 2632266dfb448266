import { mkdirSync, rmSync } from 'node:fs';
import { startPlainServer } from './helpers/plainServer';
import { type Count, runBrowserTests, runCheck, runVitest } from './helpers/steps';

/**
 * `npm test`: everything there is to check, one step after the other, each shown as it runs. Ends with one
 * line of counts over all steps; a check without counts of its own (types, lint …) counts as one.
 */
const counts: Count[] = [];
const add = async (step: Promise<Count>) => counts.push(await step);

rmSync('test/.artifacts', { recursive: true, force: true });
mkdirSync('test/.artifacts', { recursive: true });

await add(runCheck('Prisma client', ['npm', 'run', '-s', 'generate']));
await add(runCheck('Route types', ['npx', 'next', 'typegen']));
await add(runCheck('Types', ['npm', 'run', '-s', 'typecheck']));
await add(runCheck('Format and lint', ['npm', 'run', '-s', 'lint']));
await add(runCheck('Directions of imports', ['npm', 'run', '-s', 'directions']));
await add(runCheck('Unused code', ['npm', 'run', '-s', 'unused']));
await add(runCheck('Schema and migrations agree', ['npm', 'run', '-s', 'migration:new', '--', '--check']));
await add(runVitest('Unit tests', 'unit'));
await add(runVitest('Integration tests on the embedded PostgreSQL', 'integration'));
await add(runOnPlainServer());
await add(runCheck('Build', ['npm', 'run', '-s', 'build']));
await add(runBrowserTests());

const passed = sum('passed');
const failed = sum('failed');
const skipped = sum('skipped');
for (const { step, failed: failures } of counts) if (failures > 0) console.log(`Failed: ${step}`);
console.log(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
process.exitCode = failed > 0 ? 1 : 0;

function sum(key: 'passed' | 'failed' | 'skipped'): number {
  return counts.reduce((total, count) => total + count[key], 0);
}

/** The same integration tests on a PostgreSQL of the user's own, as DATABASE_URL would name it. */
async function runOnPlainServer(): Promise<Count> {
  const given = process.env.TEST_DATABASE_URL;
  const server = given ? { name: 'TEST_DATABASE_URL', url: given, stop: () => {} } : startPlainServer();
  if (!server) {
    console.log(
      '\n── No plain PostgreSQL on this system: "apt-get install -y postgresql" adds that pass. ──',
    );
    return { step: 'plain PostgreSQL', passed: 0, failed: 0, skipped: 0 };
  }
  try {
    return await runVitest(`Integration tests on ${server.name}`, 'integration', {
      // What starts servers of its own has nothing to gain from another one.
      exclude: 'test/integration/platform/{ensureServer,binaries,schemaDifference,connection}.test.ts',
      environment: { TEST_DATABASE_URL: server.url },
    });
  } finally {
    server.stop();
  }
}
