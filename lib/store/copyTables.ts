import pg from 'pg';
import { from as copyFrom, to as copyTo } from 'pg-copy-streams';

/** A table as it is copied: in the text format of COPY, which every PostgreSQL reads. */
export interface CopiedTable {
  name: string;
  columns: string[];
}

export interface SequenceState {
  name: string;
  lastValue: string;
  isCalled: boolean;
}

/** What says how far the schema is; compared, not copied. */
const MIGRATIONS = 'schema_migration';

export async function tablesOf(client: pg.ClientBase): Promise<CopiedTable[]> {
  const { rows } = await client.query<CopiedTable>(
    `SELECT c.relname AS "name", array_agg(a.attname::text ORDER BY a.attnum) AS "columns"
     FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0
       AND NOT a.attisdropped AND a.attgenerated = ''
     WHERE c.relkind = 'r' AND c.relnamespace = current_schema()::regnamespace AND c.relname <> $1
     GROUP BY c.relname ORDER BY c.relname`,
    [MIGRATIONS],
  );
  return rows;
}

/** Names and checksums of the migrations in a database, in their order; none where it has no schema yet. */
export async function migrationsOf(client: pg.ClientBase): Promise<{ name: string; checksum: string }[]> {
  const { rows } = await client.query('SELECT to_regclass($1) IS NOT NULL AS "isThere"', [MIGRATIONS]);
  if (!rows[0].isThere) return [];
  return (await client.query(`SELECT name, checksum FROM ${MIGRATIONS} ORDER BY name`)).rows;
}

export async function sequencesOf(client: pg.ClientBase): Promise<SequenceState[]> {
  const { rows } = await client.query<{ name: string }>(
    `SELECT c.relname AS "name" FROM pg_class c
     WHERE c.relkind = 'S' AND c.relnamespace = current_schema()::regnamespace ORDER BY c.relname`,
  );
  const states: SequenceState[] = [];
  for (const { name } of rows) {
    const state = await client.query(`SELECT last_value, is_called FROM ${pg.escapeIdentifier(name)}`);
    states.push({ name, lastValue: state.rows[0].last_value, isCalled: state.rows[0].is_called });
  }
  return states;
}

export async function setSequence(client: pg.ClientBase, { name, lastValue, isCalled }: SequenceState) {
  await client.query('SELECT setval($1::regclass, $2::bigint, $3)', [
    pg.escapeIdentifier(name),
    lastValue,
    isCalled,
  ]);
}

/** A table's rows in parts of about `partBytes`; returns how many rows there were. */
export async function* copyOut(
  client: pg.ClientBase,
  table: CopiedTable,
  partBytes: number,
): AsyncGenerator<Buffer, number> {
  const stream = client.query(copyTo(`COPY ${columnsOf(table)} TO STDOUT`));
  let waiting: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of stream) {
    waiting.push(chunk);
    bytes += chunk.byteLength;
    if (bytes < partBytes) continue;
    yield Buffer.concat(waiting);
    waiting = [];
    bytes = 0;
  }
  if (bytes > 0) yield Buffer.concat(waiting);
  return stream.rowCount;
}

/** Where the parts of a table are written to; the rows are there once it has finished. */
export function copyIn(client: pg.ClientBase, table: CopiedTable) {
  return client.query(copyFrom(`COPY ${columnsOf(table)} FROM STDIN`));
}

function columnsOf({ name, columns }: CopiedTable): string {
  return `${pg.escapeIdentifier(name)} (${columns.map(pg.escapeIdentifier).join(', ')})`;
}

export async function countRows(client: pg.ClientBase, table: string): Promise<number> {
  const { rows } = await client.query(`SELECT count(*)::int AS "rows" FROM ${pg.escapeIdentifier(table)}`);
  return rows[0].rows;
}

/** Tables that hold rows; the migrations themselves leave jobs in a database that is otherwise empty. */
export async function filledTables(client: pg.ClientBase): Promise<string[]> {
  const filled: string[] = [];
  for (const { name } of await tablesOf(client)) {
    if (name === 'Job') continue;
    const { rows } = await client.query(
      `SELECT EXISTS (SELECT 1 FROM ${pg.escapeIdentifier(name)}) AS "isFilled"`,
    );
    if (rows[0].isFilled) filled.push(name);
  }
  return filled;
}

/**
 * Runs a load with foreign keys and triggers of the app's out of the way, and puts them back: whatever order rows come
 * in, and however tables refer to each other, every key is checked over the whole when it is put back. Inside a
 * transaction: half of it never stays.
 */
export async function withoutConstraints(
  client: pg.ClientBase,
  tables: readonly CopiedTable[],
  load: () => Promise<void>,
): Promise<void> {
  const { rows: keys } = await client.query<{ table: string; name: string; definition: string }>(
    `SELECT c.relname AS "table", k.conname AS "name", pg_get_constraintdef(k.oid) AS "definition"
     FROM pg_constraint k JOIN pg_class c ON c.oid = k.conrelid
     WHERE k.contype = 'f' AND c.relnamespace = current_schema()::regnamespace ORDER BY c.relname, k.conname`,
  );
  const quoted = tables.map(({ name }) => pg.escapeIdentifier(name));
  for (const key of keys)
    await client.query(`ALTER TABLE ${named(key)} DROP CONSTRAINT ${pg.escapeIdentifier(key.name)}`);
  for (const table of quoted) await client.query(`ALTER TABLE ${table} DISABLE TRIGGER USER`);
  for (const table of quoted) await client.query(`TRUNCATE ${table}`);
  await load();
  for (const key of keys)
    await client.query(
      `ALTER TABLE ${named(key)} ADD CONSTRAINT ${pg.escapeIdentifier(key.name)} ${key.definition}`,
    );
  for (const table of quoted) await client.query(`ALTER TABLE ${table} ENABLE TRIGGER USER`);
}

function named({ table }: { table: string }): string {
  return pg.escapeIdentifier(table);
}

/** Where rows name files. */
export const NAMING = [
  `SELECT "sha256" AS "digest" FROM "EvidenceFile"`,
  `SELECT "thumbSha256" FROM "EvidenceFile"`,
  `SELECT "sha256" FROM "Trace"`,
  `SELECT "report"->>'sha256' FROM "ImportBatch" WHERE "report"->>'sha256' IS NOT NULL`,
] as const;

/** Every file that a row names, once. */
export const NAMED_FILES = NAMING.join(' UNION ');
