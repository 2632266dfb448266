import { PrismaPg } from '@prisma/adapter-pg';
import { PrismaClient } from '@/prisma/generated/client';
import { connectionFromEnvironment, type EnvironmentConnection } from './connection';
import { statementNames } from './statementNames';

type Opened = { readonly client: PrismaClient; connection?: Promise<EnvironmentConnection> };

/** Kept on the global object: a development server loads this module anew at every change. */
const globals: typeof globalThis & { evenloopStore?: Opened } = globalThis;

/**
 * The process's one Prisma client. Making it opens nothing: the connection (and, where nobody has, the
 * embedded server) comes with the first query, so a build that only loads modules needs no database.
 */
export function prisma(): PrismaClient {
  globals.evenloopStore ??= openLazily();
  return globals.evenloopStore.client;
}

/** Puts a client of the caller's in place of the process's own; for tests, each on a database of its own. */
export function replacePrisma(client: PrismaClient): void {
  globals.evenloopStore = { client };
}

/** Closes the client and gives up the embedded server; the next call of `prisma` begins anew. */
export async function closePrisma(): Promise<void> {
  const opened = globals.evenloopStore;
  globals.evenloopStore = undefined;
  await opened?.client.$disconnect();
  await (await opened?.connection)?.release();
}

/** A machine that is busy otherwise must not end what only waits for its turn; what takes long says so itself. */
export const transactionOptions = { maxWait: 10_000, timeout: 30_000 };

function openLazily(): Opened {
  const opened: { client: PrismaClient; connection?: Promise<EnvironmentConnection> } = {
    client: new PrismaClient({
      adapter: new LazyPg(connect),
      transactionOptions,
    }),
  };
  function connect(): Promise<EnvironmentConnection> {
    opened.connection ??= connectionFromEnvironment();
    return opened.connection;
  }
  return opened;
}

/** Prisma's PostgreSQL adapter, its connection looked up only when Prisma connects. */
class LazyPg extends PrismaPg {
  readonly #connection: () => Promise<EnvironmentConnection>;

  constructor(connection: () => Promise<EnvironmentConnection>) {
    super({});
    this.#connection = connection;
  }

  override async connect() {
    const { connection } = await this.#connection();
    // Between us and a server of the user's own may be a pooler, which need not keep what a connection was told.
    const options = 'connectionString' in connection ? {} : { statementNameGenerator: statementNames() };
    return new PrismaPg(connection, options).connect();
  }
}
