import { spawn } from 'node:child_process';
import { setTimeout as delay } from 'node:timers/promises';
import { answersOk } from '@/lib/commands/serve/answers';
import { ensureBuilt } from '@/lib/commands/serve/webBuild';
import { browserAddress, oldRegistryAddress } from './browserWorld';

/**
 * Both apps of the browser tests, side by side: filling the one leaves time to bring the other up to date. Says that
 * both are ready when they are; ends when one of them does, or when told to.
 */
await ensureBuilt();
const children = ['serveBrowserWorld', 'serveOldRegistry'].map((name) =>
  spawn(process.execPath, ['--import', 'tsx', `test/helpers/${name}.ts`], { stdio: 'inherit' }),
);
const ended = children.map(
  (child) => new Promise<number>((resolve) => child.once('exit', (code) => resolve(code ?? 1))),
);
const stop = () => children.forEach((child) => void child.kill('SIGTERM'));
for (const signal of ['SIGTERM', 'SIGINT'] as const) process.on(signal, stop);

const first = Promise.race(ended);
let isOver = false;
void first.then(() => {
  isOver = true;
});
for (const address of [oldRegistryAddress, browserAddress]) {
  while (!isOver && !(await answersOk(`${address}/api/health`, 10_000))) await delay(200);
}
if (!isOver) console.log('Both registries are ready.');
await first;
stop();
process.exitCode = Math.max(...(await Promise.all(ended)));
