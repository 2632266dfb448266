import { type ChildProcess, spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { type FileHandle, open, readdir, rename, rm, stat, truncate } from 'node:fs/promises';
import { join } from 'node:path';
import type { ServerBinaries } from './binaries';
import { type Endpoint, endpointSettings } from './endpoint';
import { isAlive } from './postmaster';
import { ServerError } from './serverError';
import type { ServerUser } from './serverUser';

export const superuser = 'postgres';

/** The log is cut at a start once it is larger than this. */
const largestLogBytes = 8 * 1024 * 1024;

export type ClusterPlace = {
  readonly dataFolder: string;
  readonly binaries: ServerBinaries;
  readonly user: ServerUser | undefined;
  /** False gives up safety against a power cut for speed: for throw-away test clusters only. */
  readonly durable: boolean;
  /** False listens on a local port, as where the system has no sockets; undefined asks the system. */
  readonly hasSockets?: boolean;
};

export function clusterFolder(dataFolder: string): string {
  return join(dataFolder, 'postgres');
}

function logFile(dataFolder: string): string {
  return join(dataFolder, 'postgres.log');
}

/**
 * Makes the cluster's files when there are none. Made aside under a name of this process's own and then
 * renamed, which is atomic: two processes at once end with one whole cluster, and a crash half-way
 * leaves nothing that looks like one.
 */
export async function createCluster(place: ClusterPlace, passwordFile: string): Promise<void> {
  const cluster = clusterFolder(place.dataFolder);
  if (existsSync(join(cluster, 'PG_VERSION'))) return;
  await removeUnfinished(place.dataFolder);
  const unfinished = `${cluster}.unfinished-${process.pid}-${randomBytes(4).toString('hex')}`;
  inProgress.add(unfinished);
  try {
    await runInitdb(place, unfinished, passwordFile);
    await rename(unfinished, cluster);
  } catch (error) {
    await rm(unfinished, { recursive: true, force: true });
    if (!existsSync(join(cluster, 'PG_VERSION'))) throw error;
  } finally {
    inProgress.delete(unfinished);
  }
}

/** What this process is making at the moment. */
const inProgress = new Set<string>();

/** Takes away what a process that is gone has left half-made. */

async function removeUnfinished(dataFolder: string): Promise<void> {
  for (const entry of await readdir(dataFolder)) {
    const maker = Number(/^postgres\.unfinished-(\d+)-/.exec(entry)?.[1]);
    const folder = join(dataFolder, entry);
    const isAtWork = maker === process.pid ? inProgress.has(folder) : isAlive(maker);
    if (Number.isNaN(maker) || isAtWork) continue;
    await rm(folder, { recursive: true, force: true });
  }
}

async function runInitdb(place: ClusterPlace, folder: string, passwordFile: string): Promise<void> {
  const child = spawn(
    place.binaries.initdb,
    [
      ...['--pgdata', folder, '--username', superuser, '--pwfile', passwordFile],
      // The socket lies in a folder only we can enter, which is the authentication; a port asks for the password.
      ...['--auth-local', 'trust', '--auth-host', 'scram-sha-256'],
      // PostgreSQL's own collation: code point order on every system, so that an index made on one
      // machine stays right on the next (https://www.postgresql.org/docs/18/locale.html).
      ...[
        '--encoding',
        'UTF8',
        '--locale',
        'C',
        '--locale-provider',
        'builtin',
        '--builtin-locale',
        'C.UTF-8',
      ],
      '--data-checksums',
      ...(place.durable ? [] : ['--no-sync']),
    ],
    { ...spawnOptions(place), stdio: ['ignore', 'pipe', 'pipe'] },
  );
  let said = '';
  const hear = (words: Buffer) => {
    said += words.toString('utf8');
  };
  child.stdout.on('data', hear);
  child.stderr.on('data', hear);
  const code = await exitOf(child);
  if (code === 0) return;
  throw new ServerError(`PostgreSQL's files could not be made in ${place.dataFolder}:\n${said.trim()}`);
}

export type StartedServer = {
  /** Settles when the process ends; it lives on after us. */
  readonly ended: Promise<number | null>;
  /** What the server logged since this start. */
  readonly log: () => Promise<string>;
};

/**
 * Starts the server as a process of its own: in another session, so that Ctrl-C in our terminal does not
 * reach it, and not tied to our life. When another server has the folder, this one ends at once by itself.
 */
export async function startPostgres(place: ClusterPlace, endpoint: Endpoint): Promise<StartedServer> {
  const file = logFile(place.dataFolder);
  const size = await stat(file).then(
    (found) => found.size,
    () => 0,
  );
  if (size > largestLogBytes) await truncate(file);
  const log = await openLog(place.dataFolder);
  const settings = [
    'max_connections=100',
    'shared_buffers=64MB',
    // Tables here are small: parallel workers only cost shared memory, which containers keep scarce.
    'max_parallel_workers_per_gather=0',
    'jit=off',
    'timezone=UTC',
    'log_timezone=UTC',
    ...(place.durable ? [] : ['fsync=off', 'synchronous_commit=off', 'full_page_writes=off']),
  ];
  const child = spawn(
    place.binaries.postgres,
    [
      '-D',
      clusterFolder(place.dataFolder),
      ...endpointSettings(endpoint),
      ...settings.flatMap((set) => ['-c', set]),
    ],
    { ...spawnOptions(place), detached: true, stdio: ['ignore', log.handle.fd, log.handle.fd] },
  );
  const ended = exitOf(child);
  await log.handle.close();
  child.unref();
  return { ended, log: () => logSince(log) };
}

type Log = { readonly handle: FileHandle; readonly file: string; readonly from: number };

async function openLog(dataFolder: string): Promise<Log> {
  const file = logFile(dataFolder);
  const handle = await open(file, 'a', 0o600);
  return { handle, file, from: (await handle.stat()).size };
}

async function logSince({ file, from }: Log): Promise<string> {
  const handle = await open(file, 'r');
  try {
    const length = Math.min(16_384, Math.max(0, (await handle.stat()).size - from));
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(length), 0, length, from);
    return buffer.subarray(0, bytesRead).toString('utf8').trim();
  } finally {
    await handle.close();
  }
}

function spawnOptions(place: ClusterPlace) {
  return {
    ...place.user,
    cwd: place.dataFolder,
    // None of our PG* variables may steer the server; messages in English, as we show them.
    env: { NODE_ENV: process.env.NODE_ENV, PATH: process.env.PATH, LC_ALL: 'C', TZ: 'UTC' },
  };
}

function exitOf(child: ChildProcess): Promise<number | null> {
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', (code) => resolve(code));
  });
}
