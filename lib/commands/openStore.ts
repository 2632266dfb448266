import { join } from 'node:path';
import { closePrisma } from '@/lib/store/client';
import {
  connectionFromEnvironment,
  databaseVariable,
  type EnvironmentConnection,
} from '@/lib/store/connection';
import { applyMigrations } from '@/lib/store/migrate/applyMigrations';

export type OpenStore = {
  /** Where the data is, for people. */
  readonly place: string;
  /** Names of the migrations applied just now. */
  readonly applied: readonly string[];
  readonly close: () => Promise<void>;
};

/**
 * What every command begins with: the database, started when it is the embedded one and not running, and
 * brought up to date. `prisma()` in this process, and child processes, find it through the environment.
 */
export async function openStore(): Promise<OpenStore> {
  const opened = await connectionFromEnvironment();
  try {
    const applied = await applyMigrations(opened.connection, join('prisma', 'migrations'));
    if (opened.passedOn) process.env[databaseVariable] = opened.passedOn;
    return {
      applied,
      place: opened.place,
      close: async () => {
        await closePrisma();
        if (opened.passedOn) delete process.env[databaseVariable];
        await opened.release();
      },
    };
  } catch (error) {
    await opened.release();
    throw error;
  }
}

/** Runs a command's work on the open store; Ctrl-C and SIGTERM close it properly before the process ends. */
export async function withStore(work: (store: OpenStore) => Promise<void>): Promise<void> {
  const store = await openStore();
  await untilClosed(() => work(store), store.close);
}

/** The same on the database as it is: nothing is brought up to date. */
export async function withDatabase<Result>(
  work: (opened: EnvironmentConnection) => Promise<Result>,
): Promise<Result> {
  const opened = await connectionFromEnvironment();
  return untilClosed(() => work(opened), opened.release);
}

async function untilClosed<Result>(work: () => Promise<Result>, close: () => Promise<void>): Promise<Result> {
  const interrupted = async () => {
    await close();
    process.exit(130);
  };
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, interrupted);
  try {
    return await work();
  } finally {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.off(signal, interrupted);
    await close();
  }
}
