import type pg from 'pg';
import { dataFolderFromEnvironment } from './server/dataFolder';
import { type DatabaseConnection, ensureServer } from './server/ensureServer';

export type EnvironmentConnection = {
  readonly connection: pg.PoolConfig;
  /** Where the data is, for people. */
  readonly place: string;
  /** What to put into `databaseVariable` for a child process; undefined when it finds its way by itself. */
  readonly passedOn?: string;
  /** Gives up the embedded server, when this process holds it. */
  readonly release: () => Promise<void>;
};

/** The variable by which a process hands its embedded server to the processes it starts. */
export const databaseVariable = 'EVENLOOP_DATABASE';

/**
 * Where the process's data is: DATABASE_URL (a PostgreSQL of the user's own) wins; then what a parent
 * process passed on; otherwise the embedded server of the data folder, started when it is not running.
 */
export async function connectionFromEnvironment(): Promise<EnvironmentConnection> {
  const url = process.env.DATABASE_URL;
  if (url) {
    return {
      connection: { connectionString: url },
      place: 'the database of DATABASE_URL',
      release: nothingToRelease,
    };
  }
  const passed = process.env[databaseVariable];
  if (passed) {
    return { connection: parsePassed(passed), place: 'the database passed on', release: nothingToRelease };
  }
  const { connection, dataFolder, release } = await ensureServer(dataFolderFromEnvironment());
  return { connection, place: dataFolder, passedOn: JSON.stringify(connection), release };
}

function parsePassed(text: string): DatabaseConnection {
  const { host, port, user, password, database } = JSON.parse(text);
  return { host, port, user, password, database, ssl: false };
}

async function nothingToRelease(): Promise<void> {}
