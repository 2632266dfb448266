import { chmodSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { keptWorldVariable } from './helpers/filledWorld';
import { startPlainServer } from './helpers/plainServer';
import { type Count, runBrowserTests, runCheck, runVitest } from './helpers/steps';

/**
 * On a PostgreSQL of the user's own, as DATABASE_URL would name it, what may differ there: migrations, locks, cursors,
 * constraints by name, the whole path. What only reads rows is the same SQL on every server. Without such a server they
 * are tried with all others on the embedded one, which carries the browser's and the recovery tests in any case.
 */
const onPlainServer = [
  'platform/applyMigrations',
  'registry/accounts',
  'registry/fullPath',
  'registry/jobs',
  'registry/methodVersions',
  'registry/refits',
  'registry/security',
].map((name) => `test/integration/${name}.test.ts`);

/**
 * `npm test`: everything there is to check, one step after the other, each shown as it runs. Ends with one
 * line of counts over all steps; a check without counts of its own (types, lint …) counts as one.
 */
const counts: Count[] = [];
const began = Date.now();
const add = async (step: Promise<Count>) => counts.push(await step);

rmSync('test/.artifacts', { recursive: true, force: true });
mkdirSync('test/.artifacts', { recursive: true });

// Filled once, copied by every step that needs the whole demo world.
const keptWorld = mkdtempSync(join(tmpdir(), 'evenloop-world-'));
// The database's user must be able to pass.
chmodSync(keptWorld, 0o755);
process.env[keptWorldVariable] = keptWorld;
process.once('exit', () => rmSync(keptWorld, { recursive: true, force: true }));

await add(runCheck('Prisma client', ['npm', 'run', '-s', 'generate']));
// One process beside what needs no demo world and mostly uses the other core.
const filling = runCheck('The whole demo world', ['npx', 'tsx', 'test/helpers/fillWorld.ts']);
await add(runCheck('Route types', ['npx', 'next', 'typegen']));
await add(runCheck('Types', ['npm', 'run', '-s', 'typecheck']));
await add(runCheck('Format and lint', ['npm', 'run', '-s', 'lint']));
await add(runCheck('Directions of imports', ['npm', 'run', '-s', 'directions']));
await add(runCheck('Unused code', ['npm', 'run', '-s', 'unused']));
await add(runCheck('Schema and migrations agree', ['npm', 'run', '-s', 'migration:new', '--', '--check']));
await add(runVitest('Unit tests', 'unit'));
const onPlain = await runOnPlainServer();
if (onPlain !== undefined) counts.push(onPlain);
await add(runCheck('Build', ['npm', 'run', '-s', 'build']));
await add(filling);
await add(
  runVitest('Integration tests on the embedded PostgreSQL', 'integration*', {
    only: integrationTests().filter((file) => onPlain === undefined || !onPlainServer.includes(file)),
  }),
);
await add(runBrowserTests());
await add(runVitest('Slow tests', 'slow'));
// By themselves: each has a minute to come back.
await add(runVitest('Recovery tests', 'slow-recovery'));

printMinutes();
const passed = sum('passed');
const failed = sum('failed');
const skipped = sum('skipped');
for (const { step, failed: failures } of counts) if (failures > 0) console.log(`Failed: ${step}`);
console.log(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
process.exitCode = failed > 0 ? 1 : 0;

/** Where the time went, so that a step that grows is seen before the whole is too long. */
function printMinutes(): void {
  console.log('\n   minutes  step');
  for (const { step, seconds } of counts) console.log(`${(seconds / 60).toFixed(1).padStart(10)}  ${step}`);
  console.log(`${((Date.now() - began) / 60_000).toFixed(1).padStart(10)}  in all`);
}

function sum(key: 'passed' | 'failed' | 'skipped'): number {
  return counts.reduce((total, count) => total + count[key], 0);
}

function integrationTests(): string[] {
  return readdirSync('test/integration', { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.test.ts'))
    .map((name) => `test/integration/${name}`);
}

async function runOnPlainServer(): Promise<Count | undefined> {
  const given = process.env.TEST_DATABASE_URL;
  const server = given ? { name: 'TEST_DATABASE_URL', url: given, stop: () => {} } : startPlainServer();
  if (!server) {
    console.log(
      '\n── No plain PostgreSQL on this system: "apt-get install -y postgresql" adds that pass. ──',
    );
    return undefined;
  }
  try {
    return await runVitest(`Integration tests on ${server.name}`, 'integration*', {
      only: onPlainServer,
      environment: { TEST_DATABASE_URL: server.url },
    });
  } finally {
    server.stop();
  }
}
