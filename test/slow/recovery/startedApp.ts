import { type ChildProcess, spawn } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { chmod, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import pg from 'pg';
import { clusterFolder } from '@/lib/store/server/cluster';
import { readPostmaster } from '@/lib/store/server/postmaster';
import { freePort } from './freePort';

export interface StartedApp {
  readonly address: string;
  readonly dataFolder: string;
  /** Process ids of its parts as they are now. */
  readonly partPid: (part: 'web.mjs' | 'worker.ts') => number;
  readonly postmasterPid: () => Promise<number>;
  /** A connection of the test's own, made anew each time: the server may have been killed in between. */
  readonly query: <Row extends pg.QueryResultRow>(sql: string, values?: unknown[]) => Promise<Row[]>;
  readonly connect: () => Promise<pg.Client>;
  readonly said: () => string;
  readonly stop: () => Promise<number | null>;
}

/** `npm start` itself (its command), on a data folder and a port of its own, up and answering. */
export async function startedApp(): Promise<StartedApp> {
  const parent = await mkdtemp(join(tmpdir(), 'evenloop-kill-'));
  // The server's user must be able to pass.
  await chmod(parent, 0o755);
  const dataFolder = join(parent, 'data');
  const port = await freePort();
  const child = spawn(process.execPath, ['--import', 'tsx', 'lib/commands/start.ts'], {
    cwd: resolve(import.meta.dirname, '../../..'),
    stdio: ['ignore', 'pipe', 'pipe'],
    env: {
      ...process.env,
      ...{
        NODE_ENV: 'production',
        DATABASE_URL: '',
        EVENLOOP_DATABASE: '',
        NEXTAUTH_URL: '',
        NEXTAUTH_SECRET: '',
      },
      ...{ EVENLOOP_DATA: dataFolder, PORT: String(port), npm_lifecycle_event: '' },
    },
  });
  let words = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.on('data', (chunk: Buffer) => {
      words += chunk.toString('utf8');
    });
  }
  const ended = new Promise<number | null>((done) => child.once('exit', done));
  const isOver = () => child.exitCode !== null || child.signalCode !== null;
  const address = `http://127.0.0.1:${port}`;
  const stop = async () => {
    if (!isOver()) child.kill('SIGTERM');
    const code = await ended;
    await rm(parent, { recursive: true, force: true });
    return code;
  };
  try {
    await waitFor('the app to be up', 300_000, async () => words.includes('is ready at') || isOver());
    if (isOver()) throw new Error('It ended at its start.');
  } catch (error) {
    await stop();
    throw new Error(`The app did not start; it said:\n${words}`, { cause: error });
  }
  const connect = async () => {
    const postmaster = await readPostmaster(clusterFolder(dataFolder));
    const client = new pg.Client({
      host: postmaster?.socketFolder ?? dataFolder,
      port: postmaster?.port ?? 5432,
      user: 'evenloop',
      database: 'evenloop',
    });
    client.on('error', () => undefined);
    await client.connect();
    return client;
  };
  return {
    address,
    dataFolder,
    connect,
    said: () => words,
    partPid: (part) => partOf(child, part),
    postmasterPid: async () => (await readPostmaster(clusterFolder(dataFolder)))?.pid ?? 0,
    query: async <Row extends pg.QueryResultRow>(sql: string, values: unknown[] = []) => {
      const client = await connect();
      try {
        return (await client.query<Row>(sql, values)).rows;
      } finally {
        await client.end().catch(() => undefined);
      }
    },
    stop,
  };
}

/** The child of the start command that runs a script. */
function partOf(child: ChildProcess, script: string): number {
  for (const entry of readdirSync('/proc')) {
    if (!/^\d+$/.test(entry)) continue;
    try {
      const parent = /\) \S (\d+) /.exec(readFileSync(`/proc/${entry}/stat`, 'utf8'))?.[1];
      if (Number(parent) !== child.pid) continue;
      if (readFileSync(`/proc/${entry}/cmdline`, 'utf8').includes(script)) return Number(entry);
    } catch {
      // It ended between the two looks.
    }
  }
  throw new Error(`no ${script} runs`);
}

/** Asks until yes; an error is a no as long as there is time. */
export async function waitFor(what: string, ms: number, question: () => Promise<boolean>): Promise<void> {
  let reason: unknown;
  for (const until = performance.now() + ms; performance.now() < until; await delay(100)) {
    try {
      if (await question()) return;
    } catch (error) {
      reason = error;
    }
  }
  throw new Error(`waited ${ms / 1000} s for ${what} in vain`, { cause: reason });
}
