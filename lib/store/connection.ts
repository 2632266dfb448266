import type pg from 'pg';
import { dataFolderFromEnvironment } from './server/dataFolder';
import { type DatabaseConnection, ensureServer } from './server/ensureServer';

export type EnvironmentConnection = {
  readonly connection: pg.PoolConfig;
  /** Gives up the embedded server, when this process holds it. */
  readonly release: () => Promise<void>;
};

/** The variable by which `npm start` hands its server to the processes it starts. */
export const databaseVariable = 'EVENLOOP_DATABASE';

/**
 * Where the process's data is: DATABASE_URL (a PostgreSQL of the user's own) wins; then what a parent
 * process passed on; otherwise the embedded server of the data folder, started when it is not running.
 */
export async function connectionFromEnvironment(): Promise<EnvironmentConnection> {
  const url = process.env.DATABASE_URL;
  if (url) return { connection: { connectionString: url }, release: nothingToRelease };
  const passed = process.env[databaseVariable];
  if (passed) return { connection: parsePassed(passed), release: nothingToRelease };
  return ensureServer(dataFolderFromEnvironment());
}

/** The value of the variable for a child process. */
export function passedConnection(connection: DatabaseConnection): string {
  return JSON.stringify(connection);
}

function parsePassed(text: string): DatabaseConnection {
  const { host, port, user, password, database } = JSON.parse(text);
  return { host, port, user, password, database, ssl: false };
}

async function nothingToRelease(): Promise<void> {}
