import { type ChildProcess, spawn } from 'node:child_process';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { programEnvironment } from './program';

const readyMs = 120_000;
const stoppingMs = 10_000;

export type WebProcess = {
  /** Settles when the process ends, wanted or not. */
  readonly ended: Promise<number | null>;
  readonly stop: () => Promise<void>;
};

/** Starts Next as a child that ends with us, even when we are killed. */
export function startWeb(mode: 'start' | 'dev', place: { host: string; port: number }): WebProcess {
  const child = spawn(
    process.execPath,
    [
      ...['--import', join(import.meta.dirname, 'endWithParent.mjs')],
      ...['node_modules/next/dist/bin/next', mode, '-H', place.host, '-p', String(place.port)],
    ],
    {
      // The channel carries no messages: its closing tells the child that we are gone.
      stdio: ['ignore', mode === 'dev' ? 'inherit' : 'ignore', 'inherit', 'ipc'],
      env: programEnvironment({}),
    },
  );
  const ended = new Promise<number | null>((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', resolve);
  });
  return { ended, stop: () => stopChild(child, ended) };
}

async function stopChild(child: ChildProcess, ended: Promise<unknown>): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  child.kill('SIGTERM');
  const patience = new AbortController();
  const insist = delay(stoppingMs, undefined, { signal: patience.signal }).then(
    () => child.kill('SIGKILL'),
    () => undefined,
  );
  await ended;
  patience.abort();
  await insist;
}

/** Waits until the app answers its health address; false when it ended or took too long. */
export async function answers(address: string, web: WebProcess): Promise<boolean> {
  let hasEnded = false;
  const ended = web.ended.then(() => {
    hasEnded = true;
  });
  for (const until = performance.now() + readyMs; performance.now() < until && !hasEnded; ) {
    // A connection kept open would hold up the server's end.
    const response = await fetch(`${address}/api/health`, { headers: { connection: 'close' } }).catch(
      () => undefined,
    );
    if (response?.ok) return true;
    await Promise.race([ended, delay(50)]);
  }
  return false;
}
