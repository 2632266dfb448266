import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { applyMigrations } from '@/lib/store/migrate/applyMigrations';
import { MigrationError } from '@/lib/store/migrate/migrationFolder';
import { bareDatabase, type DroppableDatabase } from '../../helpers/database';

let folder: string;
let database: DroppableDatabase;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'evenloop-migrations-'));
  database = await bareDatabase();
});

afterEach(async () => {
  await database.drop();
  await rm(folder, { recursive: true });
});

async function write(name: string, sql: string): Promise<void> {
  await mkdir(join(folder, name), { recursive: true });
  await writeFile(join(folder, name, 'migration.sql'), sql);
}

async function rows(sql: string): Promise<unknown[]> {
  const client = new pg.Client(database.connection);
  await client.connect();
  try {
    return (await client.query({ text: sql, rowMode: 'array' })).rows.flat();
  } finally {
    await client.end();
  }
}

const tables = () =>
  rows(`select table_name from information_schema.tables where table_schema = 'public' order by table_name`);
const recorded = () => rows('select name from schema_migration order by name');
const migrate = () => applyMigrations(database.connection, folder);

describe('applyMigrations', () => {
  it('applies in the order of the names, records each, and does nothing the second time', async () => {
    await write('20250102000000_second', 'alter table car add column mass_kg int;');
    await write('20250101000000_first', 'create table car (id int primary key);');
    expect(await migrate()).toEqual(['20250101000000_first', '20250102000000_second']);
    expect(await tables()).toEqual(['car', 'schema_migration']);
    expect(await migrate()).toEqual([]);
    expect(await recorded()).toEqual(['20250101000000_first', '20250102000000_second']);
  });

  it('applies what was added since', async () => {
    await write('20250101000000_first', 'create table car (id int primary key);');
    await migrate();
    await write('20250103000000_third', 'create table loop (id int primary key);');
    expect(await migrate()).toEqual(['20250103000000_third']);
  });

  it('leaves nothing of a broken migration, keeps those before it and names file, line and error', async () => {
    await write('20250101000000_first', 'create table car (id int primary key);');
    await write(
      '20250102000000_broken',
      "create table setup (id int);\n-- a comment with an accent: é 🚗\ninsert into setup values ('x');\ncreate table after (id int);",
    );
    await write('20250103000000_third', 'create table loop (id int);');
    const failure = await migrate().catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(MigrationError);
    expect(failure).toMatchObject({
      migration: '20250102000000_broken',
      message: expect.stringMatching(
        /20250102000000_broken fails at line 3 .*invalid input syntax for type integer: "x".*Nothing of it was applied/,
      ),
    });
    expect(await tables()).toEqual(['car', 'schema_migration']);
    expect(await recorded()).toEqual(['20250101000000_first']);
  });

  it('goes on once the broken file is mended', async () => {
    await write('20250101000000_first', 'create tabel car (id int);');
    await expect(migrate()).rejects.toThrow('syntax error at or near "tabel"');
    await write('20250101000000_first', 'create table car (id int);');
    expect(await migrate()).toEqual(['20250101000000_first']);
  });

  it('refuses an applied file that was changed, by name', async () => {
    await write('20250101000000_first', 'create table car (id int);');
    await migrate();
    await write('20250101000000_first', 'create table car (id bigint);');
    await write('20250102000000_second', 'create table loop (id int);');
    await expect(migrate()).rejects.toThrow(/20250101000000_first was changed after it was applied/);
    expect(await tables()).toEqual(['car', 'schema_migration']);
  });

  it('refuses a database newer than the code', async () => {
    await write('20250101000000_first', 'create table car (id int);');
    await write('20250102000000_second', 'create table loop (id int);');
    await migrate();
    await rm(join(folder, '20250102000000_second'), { recursive: true });
    await expect(migrate()).rejects.toThrow(/newer than this code: it has migration 20250102000000_second/);
  });

  it('refuses a migration that would end the transaction, before anything is done', async () => {
    await write('20250101000000_first', 'create table car (id int);');
    await write('20250102000000_second', 'create table loop (id int);\nCOMMIT;\nselect 1/0;');
    await expect(migrate()).rejects.toThrow(/20250102000000_second holds "COMMIT;"/);
    expect(await tables()).toEqual([]);
  });

  it('takes BEGIN and END of a function body for what they are', async () => {
    await write(
      '20250101000000_first',
      `create function twice(n int) returns int language plpgsql as $body$
       begin
         return 2 * n;
       end;
       $body$;
       create table answer as select twice(21) as value;`,
    );
    await migrate();
    expect(await rows('select value from answer')).toEqual([42]);
  });

  it('refuses a folder that is not named like a migration', async () => {
    await write('first', 'create table car (id int);');
    await expect(migrate()).rejects.toThrow(/is not named/);
  });

  it('applies each migration once when several processes start together', async () => {
    await write('20250101000000_first', 'create table car (id int); select pg_sleep(0.2);');
    await write('20250102000000_second', 'insert into car values (1);');
    const applied = await Promise.all([migrate(), migrate(), migrate()]);
    expect(applied.flat().sort()).toEqual(['20250101000000_first', '20250102000000_second']);
    expect(await rows('select count(*)::int from car')).toEqual([1]);
  });
});
