import pg from 'pg';
import { MigrationError, type MigrationFile, readMigrations } from './migrationFolder';

/** Any constant would do; it is ours alone in this database. */
const migrationLock = 8_372_003;

const recordTable = `create table if not exists schema_migration (
  name text primary key,
  checksum text not null,
  applied_at timestamptz not null default now()
)`;

/**
 * Brings a database to the state of the migrations in a folder and gives the names of those applied now.
 *
 * Each migration runs in one transaction together with its record, so a broken one leaves nothing. A
 * session-level advisory lock makes a second process wait and then find nothing to do. Refused with a
 * MigrationError: an applied file that has changed since, a database that knows migrations the folder
 * does not (it is newer than this code), and a file that ends its own transaction.
 */
export async function applyMigrations(
  connection: pg.ClientConfig,
  folder: string,
  // The last that is applied, for a database that is to hold what an earlier version wrote.
  upTo?: string,
): Promise<string[]> {
  const migrations = (await readMigrations(folder)).filter(({ name }) => upTo === undefined || name <= upTo);
  migrations.forEach(refuseOwnTransaction);
  const client = new pg.Client({ ...connection, application_name: 'evenloop migrations' });
  await client.connect();
  try {
    await client.query('select pg_advisory_lock($1)', [migrationLock]);
    await client.query(recordTable);
    const pending = await pendingMigrations(client, migrations, folder);
    for (const migration of pending) await applyOne(client, migration);
    return pending.map(({ name }) => name);
  } finally {
    // Ending the session gives the lock back, whatever happened before.
    await client.end();
  }
}

async function pendingMigrations(client: pg.Client, migrations: readonly MigrationFile[], folder: string) {
  const { rows } = await client.query<{ name: string; checksum: string }>(
    'select name, checksum from schema_migration order by name',
  );
  const known = new Map(migrations.map((migration) => [migration.name, migration]));
  for (const { name, checksum } of rows) {
    const file = known.get(name);
    if (!file) {
      throw new MigrationError(
        name,
        `The database is newer than this code: it has migration ${name}, which ${folder} does not hold. ` +
          'Run the version of the app that wrote it, or a later one.',
      );
    }
    if (file.checksum !== checksum) {
      throw new MigrationError(
        name,
        `Migration ${name} was changed after it was applied to this database. ` +
          'Restore the file, and write the change as a new migration.',
      );
    }
  }
  const applied = new Set(rows.map(({ name }) => name));
  return migrations.filter(({ name }) => !applied.has(name));
}

async function applyOne(client: pg.Client, { name, sql, checksum }: MigrationFile): Promise<void> {
  await client.query('begin');
  try {
    await client.query(sql);
    await client.query('insert into schema_migration (name, checksum) values ($1, $2)', [name, checksum]);
    await client.query('commit');
  } catch (error) {
    await client.query('rollback').catch(() => undefined);
    const reason = error instanceof Error ? error.message : String(error);
    throw new MigrationError(
      name,
      `Migration ${name} fails${whereInFile(error, sql)}: ${reason}. Nothing of it was applied.`,
      { cause: error },
    );
  }
}

/** PostgreSQL tells the place of an error in characters from the start; an editor wants the line. */
function whereInFile(error: unknown, sql: string): string {
  if (!(error instanceof pg.DatabaseError) || !error.position) return '';
  // Positions count characters, not UTF-16 units.
  const before = [...sql].slice(0, Number(error.position) - 1);
  return ` at line ${before.filter((character) => character === '\n').length + 1} of its migration.sql`;
}

/** A COMMIT inside the file would end our transaction half-way. (In PL/pgSQL, BEGIN has no semicolon.) */
function refuseOwnTransaction({ name, sql }: MigrationFile): void {
  const found = /^[ \t]*(begin|start|commit|end|rollback|abort)([ \t]+(transaction|work))?[ \t]*;/im.exec(
    withoutBodies(sql),
  );
  if (!found) return;
  throw new MigrationError(
    name,
    `Migration ${name} holds "${found[0].trim()}": each migration runs in one transaction already, take it out.`,
  );
}

/** Takes out comments and dollar-quoted function bodies, where BEGIN and END mean blocks. */
function withoutBodies(sql: string): string {
  return sql.replace(/--[^\n]*|\/\*[\s\S]*?\*\/|(\$\w*\$)[\s\S]*?\1/g, '');
}
