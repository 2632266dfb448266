import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { MigrationError } from '@/lib/store/migrate/migrationFolder';
import { schemaDifference } from '@/lib/store/migrate/schemaDifference';
import { bareDatabase } from '@/test/helpers/database';

const schema = (fields = '') => `
generator client {
  provider = "prisma-client"
  output   = "./generated"
}

datasource db {
  provider = "postgresql"
}

enum Role {
  reader
  tester
}

model Account {
  id     String                   @id @default(dbgenerated("gen_random_uuid()")) @db.Uuid
  role   Role                     @default(reader)
  tags   String[]
  extra  Json
  search Unsupported("tsvector")?
  joined DateTime                 @default(now()) @db.Timestamptz(3)
  cars   Car[]
  ${fields}
}

model Car {
  id        Int     @id @default(autoincrement())
  accountId String  @db.Uuid
  account   Account @relation(fields: [accountId], references: [id])

  @@index([accountId])
}
`;

let folder: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'evenloop-schema-'));
  await writeFile(join(folder, 'schema.prisma'), schema());
});

afterEach(() => rm(folder, { recursive: true }));

const difference = () => schemaDifference(join(folder, 'schema.prisma'), join(folder, 'migrations'));

async function addMigration(name: string, sql: string): Promise<void> {
  await mkdir(join(folder, 'migrations', name), { recursive: true });
  await writeFile(join(folder, 'migrations', name, 'migration.sql'), sql);
}

// Each comparison starts a database as WebAssembly: on a busy machine more than the usual minute.
describe('schemaDifference', { timeout: 240_000 }, () => {
  /** From nothing to the schema: written once, as each comparison starts a database of its own. */
  let first: Awaited<ReturnType<typeof difference>>;

  it('writes SQL that a PostgreSQL takes', async () => {
    first = await difference();
    expect(first.isEmpty).toBe(false);
    const { connection, drop } = await bareDatabase();
    const database = new pg.Client(connection);
    await database.connect();
    await database.query(first.sql);
    const { rows } = await database.query<{ type: string }>(
      `select data_type || ' ' || udt_name as type from information_schema.columns
        where table_name = 'Account' order by ordinal_position`,
    );
    await database.end();
    await drop();
    expect(rows.map(({ type }) => type)).toEqual([
      'uuid uuid',
      'USER-DEFINED Role',
      'ARRAY _text',
      'jsonb jsonb',
      'tsvector tsvector',
      'timestamp with time zone timestamptz',
    ]);
  });

  it('writes nothing after that, then only what is new, and leaves hand-written checks, triggers and partial indexes alone', async () => {
    await addMigration('20250101000000_first', first.sql);
    await addMigration(
      '20250102000000_rules',
      `alter table "Account" add constraint tagged check (cardinality(tags) < 20);
       create unique index one_tester on "Account" (role) where role = 'tester';
       create function refuse() returns trigger language plpgsql as $$ begin raise 'no'; end $$;
       create trigger kept before delete on "Car" for each row execute function refuse();`,
    );
    expect(await difference()).toEqual({ isEmpty: true, sql: '' });
    await writeFile(join(folder, 'schema.prisma'), schema('motto String?'));
    const { sql } = await difference();
    expect(sql.trim()).toBe('-- AlterTable\nALTER TABLE "Account" ADD COLUMN     "motto" TEXT;');
  });

  it('says which existing migration does not run', async () => {
    await addMigration('20250101000000_broken', 'create tabel x ();');
    const failure = await difference().catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(MigrationError);
    expect(failure).toMatchObject({ migration: '20250101000000_broken' });
  });

  it('passes on what the engine says about a schema that is none', async () => {
    await writeFile(join(folder, 'schema.prisma'), schema('motto Strang'));
    await expect(difference()).rejects.toThrow(/Strang/);
  });
});
