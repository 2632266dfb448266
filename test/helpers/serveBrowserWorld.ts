import { spawn } from 'node:child_process';
import { rm } from 'node:fs/promises';
import { ensureServer } from '@/lib/store/server/ensureServer';
import { browserAddress, browserDataFolder, browserPort, demoPassword } from './browserWorld';

/**
 * The app as the browser tests see it: built, started by the real start command on a data folder of its
 * own with the demo world in it, filled under the first version of the protocol, and taken down without a trace when it is told to end.
 */
const environment = {
  ...process.env,
  DATABASE_URL: '',
  EVENLOOP_DATABASE: '',
  EVENLOOP_DATA: browserDataFolder,
  EVENLOOP_DEMO_PASSWORD: demoPassword,
  NEXTAUTH_URL: browserAddress,
  NEXTAUTH_SECRET: '',
  PORT: String(browserPort),
};

function run(script: string) {
  const child = spawn(process.execPath, ['--import', 'tsx', script], { stdio: 'inherit', env: environment });
  const ended = new Promise<number>((resolve) => child.once('exit', (code) => resolve(code ?? 1)));
  return { child, ended };
}

await rm(browserDataFolder, { recursive: true, force: true });
// What is lost with the machine is made anew: filling need not wait for the disk.
const server = await ensureServer(browserDataFolder, { durable: false });
let current = run('test/helpers/beginUnderVersionOne.ts');
for (const signal of ['SIGTERM', 'SIGINT'] as const) process.on(signal, () => current.child.kill(signal));
let seeded = await current.ended;
if (seeded === 0) {
  current = run('lib/commands/seedDemo.ts');
  seeded = await current.ended;
}
await server.release();
if (seeded === 0) {
  current = run('lib/commands/start.ts');
  process.exitCode = await current.ended;
} else {
  process.exitCode = seeded;
}
await rm(browserDataFolder, { recursive: true, force: true });
