import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { ensureServer } from '@/lib/store/server/ensureServer';
import { browserAddress, demoPassword } from './browserWorld';

/**
 * Filling the whole demo world takes minutes: `npm test` names a folder here in which the first that needs one leaves a
 * copy for the others. Without it each fills its own.
 */
export const keptWorldVariable = 'EVENLOOP_TEST_WORLD';

/**
 * Makes the registry that the browser tests begin with in a data folder that is not there yet: the demo world in full,
 * filled in under the first version of the protocol. Its server is stopped again.
 */
export async function filledWorld(dataFolder: string, signal?: AbortSignal): Promise<void> {
  const kept = process.env[keptWorldVariable];
  const copy = kept ? join(kept, 'data') : undefined;
  if (copy !== undefined && existsSync(copy)) return copyFolder(copy, dataFolder, signal);
  await fill(dataFolder, signal);
  if (kept === undefined || copy === undefined) return;
  // Under its name only once it is whole.
  const unfinished = `${copy}-${process.pid}`;
  await mkdir(kept, { recursive: true });
  await copyFolder(dataFolder, unfinished, signal);
  await rename(unfinished, copy).catch(() => rm(unfinished, { recursive: true, force: true }));
}

/** Rows are read and written by the hundred thousand, and are of no use a moment later: room for them saves a sixth. */
const ROOM = ['--max-semi-space-size=64'];

async function fill(dataFolder: string, signal?: AbortSignal): Promise<void> {
  // What is lost with the machine is made anew: filling need not wait for the disk.
  const server = await ensureServer(dataFolder, { durable: false });
  try {
    const environment = worldEnvironment(dataFolder);
    for (const script of ['test/helpers/beginUnderVersionOne.ts', 'lib/commands/seedDemo.ts'])
      await ended(process.execPath, [...ROOM, '--import', 'tsx', script], environment, signal);
  } finally {
    await server.release();
  }
}

/** What a command needs to work on that data folder and nothing else. */
export function worldEnvironment(dataFolder: string): NodeJS.ProcessEnv {
  return {
    ...process.env,
    DATABASE_URL: '',
    EVENLOOP_DATABASE: '',
    EVENLOOP_DATA: dataFolder,
    EVENLOOP_DEMO_PASSWORD: demoPassword,
    NEXTAUTH_URL: browserAddress,
    NEXTAUTH_SECRET: '',
  };
}

/** With owners and modes: the cluster belongs to the user that the server runs as. */
function copyFolder(from: string, to: string, signal?: AbortSignal): Promise<void> {
  return ended('cp', ['-a', from, to], process.env, signal);
}

function ended(
  program: string,
  args: readonly string[],
  env: NodeJS.ProcessEnv,
  signal?: AbortSignal,
): Promise<void> {
  const child = spawn(program, args, { stdio: ['ignore', 'inherit', 'inherit'], env, signal });
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', (code) =>
      code === 0 ? resolve() : reject(new Error(`${[program, ...args].join(' ')} ended with ${code}`)),
    );
  });
}
