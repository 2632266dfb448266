import { spawn } from 'node:child_process';
import { rm } from 'node:fs/promises';
import { browserDataFolder, browserPort } from './browserWorld';
import { filledWorld, worldEnvironment } from './filledWorld';

/**
 * The app as the browser tests see it: built, started by the real start command on a data folder of its
 * own with the demo world in it, filled under the first version of the protocol, and taken down without a trace when it is told to end.
 */
const told = new AbortController();
for (const signal of ['SIGTERM', 'SIGINT'] as const) process.on(signal, () => told.abort());

await rm(browserDataFolder, { recursive: true, force: true });
try {
  await filledWorld(browserDataFolder, told.signal);
  const app = spawn(process.execPath, ['--import', 'tsx', 'lib/commands/start.ts'], {
    stdio: 'inherit',
    env: { ...worldEnvironment(browserDataFolder), PORT: String(browserPort) },
  });
  const stop = () => void app.kill('SIGTERM');
  told.signal.addEventListener('abort', stop);
  if (told.signal.aborted) stop();
  process.exitCode = await new Promise<number>((resolve) => app.once('exit', (code) => resolve(code ?? 1)));
} catch (error) {
  console.error(error);
  process.exitCode = 1;
} finally {
  await rm(browserDataFolder, { recursive: true, force: true });
}
