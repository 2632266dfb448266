import { type ChildProcess, spawn } from 'node:child_process';
import { rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';

export interface BuiltApp {
  address: string;
  start(): Promise<ChildProcess>;
}

/** The built app on a demo world of its own, stopped: for a bench that starts it. */
export async function onDemoWorld(measure: (app: BuiltApp) => Promise<void>): Promise<void> {
  const folder = join(tmpdir(), `evenloop-bench-${process.pid}`);
  const port = await freePort();
  const environment = {
    ...process.env,
    DATABASE_URL: '',
    EVENLOOP_DATABASE: '',
    EVENLOOP_DATA: folder,
    PORT: String(port),
    NEXTAUTH_URL: '',
  };
  try {
    await ended(run('lib/commands/seedDemo.ts', environment));
    // The first start may build; it is not counted.
    await stop(await started(environment, port));
    await measure({
      address: `http://127.0.0.1:${port}`,
      start: () => started(environment, port),
    });
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

function run(script: string, env: NodeJS.ProcessEnv): ChildProcess {
  return spawn(process.execPath, ['--import', 'tsx', script], {
    stdio: ['ignore', 'ignore', 'inherit'],
    env,
  });
}

async function started(environment: NodeJS.ProcessEnv, port: number): Promise<ChildProcess> {
  const app = run('lib/commands/start.ts', environment);
  while (app.exitCode === null) {
    const isUp = await fetch(`http://127.0.0.1:${port}/api/health`).then(
      (response) => response.ok,
      () => false,
    );
    if (isUp) return app;
    await delay(20);
  }
  throw new Error(`the app ended with ${app.exitCode} before it answered`);
}

export async function stop(app: ChildProcess): Promise<void> {
  app.kill('SIGTERM');
  await ended(app);
}

function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null) return Promise.resolve();
  return new Promise((resolve) => child.once('exit', () => resolve()));
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => resolve(typeof address === 'object' && address !== null ? address.port : 0));
    });
  });
}
