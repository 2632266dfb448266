import { rmdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import pg from 'pg';
import { readPostmaster, servesCluster } from './postmaster';
import { ServerError } from './serverError';

/**
 * A keeper is one connection a process holds as long as it uses the embedded server. It holds a shared
 * advisory lock; who wants to stop the server must get the same lock exclusively. So the server is
 * stopped by the last one out, and never under somebody who has just come in.
 */
export const keeperName = 'evenloop keeper';

/** Any constant would do; these are two of our own, told apart from the migration lock. */
const usageLock = 8_372_001;
const setupLock = 8_372_002;

/** How long the last one out waits for connections that are just closing. */
const leavingMs = 2_000;
const stoppingMs = 60_000;

export async function openKeeper(connection: pg.ClientConfig): Promise<pg.Client> {
  const keeper = new pg.Client({
    ...connection,
    application_name: keeperName,
    connectionTimeoutMillis: 10_000,
  });
  // A server that ends under us is found by the next query; an unheard event would end the process.
  keeper.on('error', () => undefined);
  try {
    await keeper.connect();
    await keeper.query('select pg_advisory_lock_shared($1)', [usageLock]);
    return keeper;
  } catch (error) {
    await keeper.end().catch(() => undefined);
    throw error;
  }
}

/** Runs a set-up step that two processes must not do at the same time. */
export async function withSetupLock(keeper: pg.Client, setUp: () => Promise<void>): Promise<void> {
  await keeper.query('select pg_advisory_lock($1)', [setupLock]);
  try {
    await setUp();
  } finally {
    await keeper.query('select pg_advisory_unlock($1)', [setupLock]);
  }
}

/** Gives the keeper up, and stops the server when nobody else is connected. */
export async function leave(keeper: pg.Client, cluster: string): Promise<void> {
  const isLast = await isLastOut(keeper).catch(() => false);
  const postmaster = isLast ? await readPostmaster(cluster) : undefined;
  // Still holding the lock, so that nobody comes in between the question and the signal.
  if (postmaster) process.kill(postmaster.pid, 'SIGINT'); // "fast" shutdown: checkpoint, then end
  await keeper.end().catch(() => undefined);
  if (!postmaster) return;
  await waitForEnd(postmaster.pid, cluster);
  // A socket folder of the server's own (endpoint.ts) goes with it; the data folder is not empty and stays.
  if (postmaster.socketFolder !== dirname(cluster))
    await rmdir(postmaster.socketFolder).catch(() => undefined);
}

async function isLastOut(keeper: pg.Client): Promise<boolean> {
  await keeper.query('select pg_advisory_unlock_shared($1)', [usageLock]);
  const { rows } = await keeper.query<{ got: boolean }>('select pg_try_advisory_lock($1) as got', [
    usageLock,
  ]);
  if (!rows[0]?.got) return false;
  for (const until = performance.now() + leavingMs; performance.now() < until; await delay(20)) {
    const others = await keeper.query<{ total: number; arriving: number }>(
      `select count(*)::int as total,
              count(*) filter (where application_name = $1 and wait_event = 'advisory')::int as arriving
         from pg_stat_activity
        where backend_type = 'client backend' and pid <> pg_backend_pid()`,
      [keeperName],
    );
    const found = others.rows[0];
    if (found?.total === 0) return true;
    if (found && found.arriving > 0) return false;
  }
  return false;
}

async function waitForEnd(pid: number, cluster: string): Promise<void> {
  for (const until = performance.now() + stoppingMs; performance.now() < until; await delay(20)) {
    // Not isAlive: where nobody collects orphans, an ended server stays in the process table.
    if (!servesCluster(pid, cluster)) return;
  }
  throw new ServerError(`The embedded PostgreSQL (process ${pid}) does not end; its log says why.`);
}
