import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chmod, mkdir, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import pg from 'pg';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { clusterFolder } from '@/lib/store/server/cluster';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import {
  type DatabaseConnection,
  ensureServer,
  type ServerHandle,
  type ServerOptions,
} from '@/lib/store/server/ensureServer';
import { readPostmaster, servesCluster } from '@/lib/store/server/postmaster';
import { ServerError } from '@/lib/store/server/serverError';
import { serverUser } from '@/lib/store/server/serverUser';

let parent: string;
let folder: string;
let made: string;
let handles: ServerHandle[];
let children: ChildProcess[];

beforeAll(async () => {
  made = await mkdtemp(join(tmpdir(), 'evenloop-made-'));
  await chmod(made, 0o755);
  await (await ensureServer(join(made, 'data'), { durable: false })).release();
});
afterAll(() => rm(made, { recursive: true, force: true }));

/** A folder whose cluster was made before and is stopped: initialising one takes seconds, and is not what is looked at. */
function madeBefore(): void {
  // With its owner: the server does not run as root.
  expect(spawnSync('cp', ['-a', join(made, 'data'), folder]).status).toBe(0);
}

beforeEach(async () => {
  parent = await mkdtemp(join(tmpdir(), 'evenloop-server-'));
  // The server's user must be able to pass.
  await chmod(parent, 0o755);
  folder = join(parent, 'data');
  handles = [];
  children = [];
});

afterEach(async () => {
  for (const child of children) if (child.exitCode === null && child.signalCode === null) await end(child);
  for (const handle of handles) await handle.release();
  await rm(parent, { recursive: true, force: true });
});

async function start(options: ServerOptions = {}): Promise<ServerHandle> {
  const handle = await ensureServer(folder, { durable: false, ...options });
  handles.push(handle);
  return handle;
}

/** Another process on the same folder; gives the process id of the server it found or started. */
async function startElsewhere(): Promise<{ child: ChildProcess; serverPid: number }> {
  const script = resolve(import.meta.dirname, '../../helpers/holdServer.ts');
  const child = spawn(process.execPath, ['--import', 'tsx', script, folder], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  children.push(child);
  for await (const line of createInterface(child.stdout))
    return { child, serverPid: JSON.parse(line).serverPid };
  throw new Error('The other process ended before it was connected.');
}

function end(child: ChildProcess, signal: NodeJS.Signals = 'SIGTERM'): Promise<void> {
  const ended = new Promise<void>((done) => child.once('exit', () => done()));
  child.kill(signal);
  return ended;
}

async function query<T extends pg.QueryResultRow>(connection: DatabaseConnection, sql: string): Promise<T[]> {
  const client = new pg.Client(connection);
  await client.connect();
  try {
    return (await client.query<T>(sql)).rows;
  } finally {
    await client.end();
  }
}

const runningPid = async () => {
  const postmaster = await readPostmaster(clusterFolder(folder));
  return postmaster && servesCluster(postmaster.pid, clusterFolder(folder)) ? postmaster.pid : undefined;
};

describe('a new data folder', () => {
  it('is private, checksummed, UTF-8 with a stated collation, and opens no port', async () => {
    const { connection, adminConnection, databaseUrl } = await start();
    expect((await stat(folder)).mode & 0o777).toBe(0o700);
    expect((await stat(join(folder, 'database-password'))).mode & 0o777).toBe(0o600);
    const names = ['data_checksums', 'listen_addresses', 'server_encoding', 'is_superuser'];
    const settings = await query(
      connection,
      `select ${names.map((name) => `current_setting('${name}') as ${name}`).join(', ')},
              datlocale as locale, datlocprovider::text as provider
         from pg_database where datname = current_database()`,
    );
    expect(settings).toEqual([
      {
        data_checksums: 'on',
        listen_addresses: '',
        server_encoding: 'UTF8',
        is_superuser: 'off',
        locale: 'C.UTF-8',
        provider: 'b',
      },
    ]);
    expect(connection.host).toBe(folder);
    expect(await query(adminConnection, "select current_setting('is_superuser') as is_superuser")).toEqual([
      { is_superuser: 'on' },
    ]);
    const byUrl = new pg.Client({ connectionString: databaseUrl });
    await byUrl.connect();
    expect((await byUrl.query('select current_user as me, current_database() as here')).rows).toEqual([
      { me: 'evenloop', here: 'evenloop' },
    ]);
    await byUrl.end();
  });

  it('may lie in folders that are not there yet', async () => {
    folder = join(parent, 'not', 'yet', 'data');
    await start();
    expect((await stat(folder)).mode & 0o777).toBe(0o700);
    expect((await stat(join(parent, 'not'))).mode & 0o111).toBe(0o111);
  });

  it('is refused when it holds somebody else’s files, and left as it was', async () => {
    await mkdir(folder, { mode: 0o755 });
    await writeFile(join(folder, 'letter.txt'), 'Dear reader');
    await expect(start()).rejects.toThrow(/holds other files/);
    expect((await stat(folder)).mode & 0o777).toBe(0o755);
  });

  it('drops what a crash left of an earlier attempt to make it', async () => {
    const left = join(folder, 'postgres.unfinished-4194305-0a1b2c3d');
    await mkdir(left, { recursive: true });
    await writeFile(join(folder, 'database-password'), 'kept', { mode: 0o600 });
    await start();
    expect(existsSync(left)).toBe(false);
  });
});

describe('several users of one folder', () => {
  it('become one server when they start at once, and the last one out stops it', async () => {
    const [first, second, third] = await Promise.all([startElsewhere(), startElsewhere(), startElsewhere()]);
    expect(new Set([first.serverPid, second.serverPid, third.serverPid])).toEqual(
      new Set([await runningPid()]),
    );
    await Promise.all([end(first.child), end(second.child)]);
    expect(await runningPid()).toBe(third.serverPid);
    await end(third.child);
    expect(await runningPid()).toBeUndefined();
    expect(existsSync(join(clusterFolder(folder), 'postmaster.pid'))).toBe(false);
  });

  it('stop it also when the last two leave at once', async () => {
    madeBefore();
    const [first, second] = await Promise.all([start(), start()]);
    await Promise.all([first.release(), second.release()]);
    expect(await runningPid()).toBeUndefined();
  });

  it('keep it while another client is connected', async () => {
    madeBefore();
    const { adminConnection, release } = await start();
    const guest = new pg.Client(adminConnection);
    await guest.connect();
    await release();
    expect((await guest.query('select 1 as one')).rows).toEqual([{ one: 1 }]);
    await guest.end();
    const again = await start();
    await again.release();
    expect(await runningPid()).toBeUndefined();
  });

  it('come and go without ever losing the server under one of them', async () => {
    madeBefore();
    const visit = async () => {
      const { connection, release } = await ensureServer(folder, { durable: false });
      await query(connection, 'select 1');
      await release();
    };
    await visit();
    const visitors = Array.from({ length: 4 }, async () => {
      for (let visits = 0; visits < 5; visits += 1) await visit();
    });
    await Promise.all(visitors);
    expect(await runningPid()).toBeUndefined();
  });
});

describe('after a crash', () => {
  it('of the app, its server is found and used again', async () => {
    madeBefore();
    const { child, serverPid } = await startElsewhere();
    await end(child, 'SIGKILL');
    expect(await runningPid()).toBe(serverPid);
    const { release } = await start();
    expect(await runningPid()).toBe(serverPid);
    await release();
    expect(await runningPid()).toBeUndefined();
  });

  it('of the server, it is started again with what was committed', async () => {
    madeBefore();
    const before = await start({ durable: true });
    await query(before.connection, 'create table kept as select 42 as value');
    const killed = await runningPid();
    if (killed === undefined) throw new Error('No server runs.');
    process.kill(killed, 'SIGKILL');
    const { connection } = await start({ durable: true });
    expect(await query(connection, 'select value from kept')).toEqual([{ value: 42 }]);
    expect(await runningPid()).not.toBe(killed);
  });

  it('of the server under a running app, that app brings it back by itself', async () => {
    madeBefore();
    const { connection, release } = await start();
    const killed = await runningPid();
    if (killed === undefined) throw new Error('No server runs.');
    process.kill(killed, 'SIGKILL');
    await expect
      .poll(() => query(connection, 'select 1 as one').catch(() => []), { timeout: 20_000 })
      .toEqual([{ one: 1 }]);
    expect(await runningPid()).not.toBe(killed);
    await release();
    expect(await runningPid()).toBeUndefined();
  });

  it('of the machine, a process id that now belongs to something else does not stand in the way', async () => {
    madeBefore();
    await (await start()).release();
    const other = spawn('sleep', ['60'], { ...serverUser(), stdio: 'ignore' });
    children.push(other);
    const file = join(clusterFolder(folder), 'postmaster.pid');
    await writeFile(file, `${other.pid}\n${clusterFolder(folder)}\n1700000000\n5432\n${folder}\n\n`);
    await start();
    expect(await runningPid()).not.toBe(other.pid);
    expect(Number.parseInt(await readFile(file, 'utf8'), 10)).toBe(await runningPid());
  });
});

describe('where the server listens', () => {
  it('is a socket elsewhere when the path to the folder is too long for one', async () => {
    folder = join(parent, 'a'.repeat(100));
    madeBefore();
    const { connection, release } = await start();
    expect(connection.host.startsWith(tmpdir())).toBe(true);
    expect((await stat(connection.host)).mode & 0o777).toBe(0o700);
    expect((await start()).connection.host).toBe(connection.host);
    await release();
    for (const handle of handles) await handle.release();
    expect(existsSync(connection.host)).toBe(false);
  });

  it('is a local port with a password where there are no sockets', async () => {
    madeBefore();
    const { connection } = await start({ hasSockets: false });
    expect(connection.host).toBe('127.0.0.1');
    expect(await query(connection, 'select current_user as me')).toEqual([{ me: 'evenloop' }]);
    await expect(query({ ...connection, password: 'wrong' }, 'select 1')).rejects.toThrow(
      'password authentication failed',
    );
  });
});

describe('the default data folder', () => {
  it('is what EVENLOOP_DATA names, otherwise .evenloop beside the app', () => {
    vi.stubEnv('EVENLOOP_DATA', '/somewhere/else');
    expect(dataFolderFromEnvironment(parent)).toBe('/somewhere/else');
    vi.stubEnv('EVENLOOP_DATA', '');
    expect(dataFolderFromEnvironment(parent)).toBe(join(parent, '.evenloop'));
    vi.unstubAllEnvs();
  });

  // PostgreSQL runs as our own user unless we are root: only then can it be shut out of a folder.
  if (process.getuid?.() === 0) {
    it('lies under /var/lib, one an app, when root keeps the app where the server’s user cannot go', async () => {
      vi.stubEnv('EVENLOOP_DATA', '');
      const closed = join(parent, 'closed');
      await mkdir(closed, { mode: 0o700 });
      await mkdir(join(closed, 'app'));
      expect(dataFolderFromEnvironment(join(closed, 'app'))).toMatch(
        /^\/var\/lib\/evenloop\/app-[0-9a-f]{8}$/,
      );
      vi.unstubAllEnvs();
    });
  }
});

if (process.getuid?.() === 0) {
  it('tells root what to do when the server’s user cannot reach the folder', async () => {
    const closed = join(parent, 'closed');
    await mkdir(closed, { mode: 0o700 });
    folder = join(closed, 'data');
    const failure = await start().catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(ServerError);
    expect(failure).toMatchObject({
      message: expect.stringMatching(/cannot reach .*closed.*EVENLOOP_DATA/s),
    });
  });
}
