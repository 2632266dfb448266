import { type ChildProcess, spawn } from 'node:child_process';
import { rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';

const COLD_STARTS = 5;
const REQUESTS = 200;

/**
 * The built app on the demo world: how long a cold start takes (process to first healthy answer, database included),
 * and how long the server takes for a ranking page, one request after the other.
 */
export async function bench(): Promise<void> {
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
    const startsMs: number[] = [];
    for (let i = 0; i < COLD_STARTS; i += 1) {
      const from = performance.now();
      const app = await started(environment, port);
      startsMs.push(performance.now() - from);
      await stop(app);
    }
    report('cold start of the built app', 'ms', startsMs);
    const app = await started(environment, port);
    for (const path of ['/rankings', '/rankings?class=kmh-90&show=raw', '/api/health']) {
      report(`server time of ${path}`, 'ms', await requestTimesMs(`http://127.0.0.1:${port}${path}`));
    }
    await stop(app);
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

async function stop(app: ChildProcess): Promise<void> {
  app.kill('SIGTERM');
  await ended(app);
}

function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null) return Promise.resolve();
  return new Promise((resolve) => child.once('exit', () => resolve()));
}

/** Whole answers read, on one connection, after a warm-up. */
async function requestTimesMs(url: string): Promise<number[]> {
  const times: number[] = [];
  for (let i = 0; i < REQUESTS + 20; i += 1) {
    const from = performance.now();
    await (await fetch(url)).arrayBuffer();
    if (i >= 20) times.push(performance.now() - from);
  }
  return times;
}

function report(what: string, unit: string, values: number[]): void {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (share: number) =>
    (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0).toFixed(0);
  console.log(
    `${what}: median ${at(0.5)}, 95th ${at(0.95)}, worst ${at(1)} ${unit} (${values.length} times)`,
  );
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
