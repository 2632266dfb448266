import { type ChildProcess, spawn } from 'node:child_process';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { programEnvironment } from './program';

const stoppingMs = 15_000;

export type RunningChild = {
  readonly pid: number | undefined;
  /** Settles when the process ends, wanted or not, with how. */
  readonly ended: Promise<string>;
  /** Asks it to end, and insists after a while. */
  readonly stop: () => Promise<void>;
  /** Ends it where it stands. */
  readonly kill: () => void;
};

/** Starts one of our processes as a child that ends with us, even when we are killed. */
export function startChild(args: readonly string[], added: Record<string, string> = {}): RunningChild {
  const child = spawn(process.execPath, [...args], {
    // The channel carries no messages: its closing tells the child that we are gone.
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    env: programEnvironment(added),
  });
  const ended = new Promise<string>((resolve) => {
    child.once('error', (error) => resolve(error.message));
    child.once('exit', (code, signal) => resolve(signal ?? `exit code ${code}`));
  });
  return { pid: child.pid, ended, stop: () => stopChild(child, ended), kill: () => child.kill('SIGKILL') };
}

/** The web process at an address of this machine. */
export function startWeb(place: { isDev: boolean; host: string; port: number }): RunningChild {
  const script = join(import.meta.dirname, 'web.mjs');
  return startChild([script, ...(place.isDev ? ['--dev'] : [])], {
    HOST: place.host,
    PORT: String(place.port),
  });
}

/** The process that does what pages leave to the background. */
export function startWorkerProcess(): RunningChild {
  return startChild(['--import', 'tsx', join(import.meta.dirname, 'worker.ts')]);
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
