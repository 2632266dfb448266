import { chown } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import type pg from 'pg';
import { serverBinaries } from './binaries';
import { type ClusterPlace, clusterFolder, createCluster, startPostgres, superuser } from './cluster';
import { prepareDataFolder } from './dataFolder';
import { chooseEndpoint, clientAddress, type Endpoint, endpointOf } from './endpoint';
import { leave, openKeeper, withSetupLock } from './keeper';
import { keptSecret } from './keptSecret';
import { clearStalePostmaster, isAlive, readPostmaster, servesCluster } from './postmaster';
import { ServerError } from './serverError';
import { serverUser } from './serverUser';

/** How to reach a database: plain data, so that it can be passed to a child process. */
export type DatabaseConnection = {
  readonly host: string;
  readonly port: number;
  readonly user: string;
  readonly password: string;
  readonly database: string;
  readonly ssl: false;
};

export type ServerHandle = {
  readonly dataFolder: string;
  /** The app's own database, as an owner without superuser rights. */
  readonly connection: DatabaseConnection;
  /** The maintenance database, as superuser. */
  readonly adminConnection: DatabaseConnection;
  readonly databaseUrl: string;
  /** Gives the server up; the last one out stops it. Safe to call twice. */
  readonly release: () => Promise<void>;
};

export type ServerOptions = Partial<Pick<ClusterPlace, 'durable' | 'hasSockets'>>;

const appName = 'evenloop';
const startingMs = 60_000;

/**
 * The embedded PostgreSQL on a data folder: started when nobody has, joined when somebody has.
 *
 * Never two servers on one folder: PostgreSQL's own `postmaster.pid` and shared-memory check is the
 * lock. Of two processes that start one at once, the second server ends by itself and both processes
 * connect to the first.
 */
export async function ensureServer(
  folder: string,
  options: { durable?: boolean } = {},
): Promise<ServerHandle> {
  const user = serverUser();
  const dataFolder = await prepareDataFolder(folder, user);
  const place = { dataFolder, user, binaries: await serverBinaries(user), durable: true, ...options };
  const password = await clusterPassword(place);
  const { keeper, adminConnection } = await connectOrStart(place, password);
  const connection = { ...adminConnection, user: appName, database: appName };
  await withSetupLock(keeper, () => createAppDatabase(keeper, password));
  const presence = stayPresent(place, password, keeper, endpointOf(adminConnection));
  return {
    dataFolder,
    connection,
    adminConnection,
    databaseUrl: databaseUrl(connection),
    release: presence.end,
  };
}

/**
 * Holds a keeper for as long as this process uses the server. When it is lost without our doing (the
 * server crashed or was killed), another is opened, which starts the server again where need be: at the same place, as
 * other processes were told where it is.
 */
function stayPresent(place: ClusterPlace, password: string, first: pg.Client, endpoint: Endpoint) {
  const leaving = new AbortController();
  let current: Promise<pg.Client | undefined>;
  let ended: Promise<void> | undefined;
  const hold = (keeper: pg.Client) => {
    keeper.once('end', () => {
      if (!leaving.signal.aborted) current = reopen();
    });
    return keeper;
  };
  const reopen = async () => {
    for (let tries = 0; !leaving.signal.aborted; tries += 1) {
      try {
        return hold((await connectOrStart(place, password, endpoint)).keeper);
      } catch (error) {
        // A full disk may be cleared: it is tried for as long as this process lives, and said seldom.
        if (tries === 0) console.error('The embedded PostgreSQL was lost and does not start again.', error);
        const wait = Math.min(30_000, 1_000 * 2 ** tries);
        await delay(wait, undefined, { ref: false, signal: leaving.signal }).catch(() => undefined);
      }
    }
    return undefined;
  };
  current = Promise.resolve(hold(first));
  const end = async () => {
    leaving.abort();
    const keeper = await current;
    if (keeper) await leave(keeper, clusterFolder(place.dataFolder));
  };
  return {
    end: () => {
      ended ??= end();
      return ended;
    },
  };
}

/** The password for a server that listens on a port; the cluster's files are made with it at first. */
async function clusterPassword(place: ClusterPlace): Promise<string> {
  const file = join(place.dataFolder, 'database-password');
  const password = await keptSecret(file);
  // initdb reads it as the server's user.
  if (place.user) await chown(file, place.user.uid, place.user.gid);
  await createCluster(place, file);
  return password;
}

type Connected = { keeper: pg.Client; adminConnection: DatabaseConnection };

async function connectOrStart(
  place: ClusterPlace,
  password: string,
  endpoint?: Endpoint,
): Promise<Connected> {
  const cluster = clusterFolder(place.dataFolder);
  let reason = '';
  for (const until = performance.now() + startingMs; performance.now() < until; await delay(30)) {
    const postmaster = await readPostmaster(cluster);
    if (postmaster && servesCluster(postmaster.pid, cluster)) {
      const address = clientAddress(postmaster);
      const adminConnection = {
        ...address,
        user: superuser,
        password,
        database: 'postgres',
        ssl: false,
      } as const;
      try {
        return { keeper: await openKeeper(adminConnection), adminConnection };
      } catch (error) {
        // It is starting or stopping: look again in a moment.
        if (!isPassing(error)) throw error;
        reason = error instanceof Error ? error.message : String(error);
        continue;
      }
    }
    if (postmaster && isAlive(postmaster.pid)) await clearStalePostmaster(cluster, postmaster);
    reason = (await startAndWatch(place, cluster, endpoint)) || reason;
  }
  throw new ServerError(`The embedded PostgreSQL in ${place.dataFolder} did not start: ${reason}`);
}

/** Starts a server and waits until it has written its address or ended; gives what it said when it ended. */
async function startAndWatch(place: ClusterPlace, cluster: string, endpoint?: Endpoint): Promise<string> {
  const server = await startPostgres(
    place,
    endpoint ?? (await chooseEndpoint(place.dataFolder, place.user, place.hasSockets)),
  );
  let hasEnded = false;
  const ended = server.ended.then(() => {
    hasEnded = true;
  });
  for (const until = performance.now() + startingMs; performance.now() < until && !hasEnded; ) {
    const postmaster = await readPostmaster(cluster);
    if (postmaster && servesCluster(postmaster.pid, cluster)) return '';
    await Promise.race([ended, delay(10)]);
  }
  const log = await server.log();
  // Another server has the folder, or the processes of a killed one are still leaving it: try again.
  if (/lock file|shared memory block/.test(log)) return log;
  if (hasEnded)
    throw new ServerError(`The embedded PostgreSQL in ${place.dataFolder} ended at its start:\n${log}`);
  return log;
}

/** Errors of a server on its way up or down (SQLSTATE class 57P, or nobody listening). */
function isPassing(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  const code = 'code' in error ? String(error.code) : '';
  const passing = ['57P01', '57P02', '57P03', 'ECONNREFUSED', 'ECONNRESET', 'ENOENT', 'EPIPE'];
  return passing.includes(code) || /Connection terminated|timeout expired/.test(error.message);
}

async function createAppDatabase(admin: pg.Client, password: string): Promise<void> {
  const found = await admin.query('select 1 from pg_database where datname = $1', [appName]);
  if (found.rows.length > 0) return;
  const role = await admin.query('select 1 from pg_roles where rolname = $1', [appName]);
  if (role.rows.length === 0) {
    // Roles take no query parameters; the password is our own base64url text.
    await admin.query(`create role ${appName} login password ${admin.escapeLiteral(password)}`);
  }
  await admin.query(`create database ${appName} owner ${appName}`);
}

/** The same connection as a URL, for tools that want one. */
export function databaseUrl(connection: DatabaseConnection): string {
  const { host, port, user, password, database } = connection;
  const isSocket = host.startsWith('/');
  const url = new URL(`postgresql://${isSocket ? 'localhost' : host}/${encodeURIComponent(database)}`);
  url.username = user;
  url.password = password;
  url.port = String(port);
  if (isSocket) url.searchParams.set('host', host);
  return url.href;
}
