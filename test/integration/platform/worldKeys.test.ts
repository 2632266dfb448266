import { cp, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { applyMigrations } from '@/lib/store/migrate/applyMigrations';
import { bareDatabase, type DroppableDatabase } from '../../helpers/database';

const MIGRATIONS = join('prisma', 'migrations');
const BEFORE = '20261125131017_method_versions';
const ID = (last: number) => `'00000000-0000-7000-8000-00000000000${last}'`;

let folder: string;
let database: DroppableDatabase;
let client: pg.Client;

/** A registry of before worlds had keys: one account, model and group of each kind, and an adopted version. */
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'evenloop-worlds-'));
  database = await bareDatabase();
  for (const name of await readdir(MIGRATIONS)) {
    if (name <= BEFORE) await cp(join(MIGRATIONS, name), join(folder, name), { recursive: true });
  }
  await applyMigrations(database.connection, folder);
  client = new pg.Client(database.connection);
  await client.connect();
  await client.query(`
    INSERT INTO "Account" ("id", "displayName", "slug", "isDemo") VALUES
      (${ID(1)}, 'Real', 'real', false), (${ID(2)}, 'Made up', 'made-up', true);
    INSERT INTO "Maker" ("id", "slug", "name") VALUES (${ID(3)}, 'maker', 'Maker');
    INSERT INTO "VehicleModel" ("id", "makerId", "slug", "name", "modelYear", "variant", "bodyClass", "kerbMassKg", "isDemo")
      VALUES (${ID(4)}, ${ID(3)}, 'one', 'One', 2025, '', 'suv', 2000, true);
    INSERT INTO "CruiseClass" ("key", "label", "speedMps", "ordinal") VALUES ('kmh-110', '110 km/h', 30.5556, 1);
    INSERT INTO "ComparisonGroup" ("id", "cruiseClassKey", "isDemo") VALUES
      (${ID(5)}, 'kmh-110', false), (${ID(6)}, 'kmh-110', true);
    INSERT INTO "MethodVersion" ("id", "label", "engine", "isDemo", "ordinal", "isCurrent", "adoptedById", "summary")
      VALUES (${ID(7)}, 'learned', '1', false, 1, true, ${ID(1)}, 'why'),
             (${ID(8)}, 'demoLearned', '1', true, 1, true, ${ID(2)}, 'why');`);
  await applyMigrations(database.connection, MIGRATIONS);
});

afterAll(async () => {
  await client.end();
  await database.drop();
  await rm(folder, { recursive: true });
});

const worlds = async (table: string) =>
  (
    await client.query({ text: `SELECT "world" FROM "${table}" ORDER BY "id"`, rowMode: 'array' })
  ).rows.flat();

describe('a registry of before worlds had keys', () => {
  it('keeps every row in its world', async () => {
    expect(await worlds('Account')).toEqual(['record', 'demo']);
    expect(await worlds('VehicleModel')).toEqual(['demo']);
    expect(await worlds('ComparisonGroup')).toEqual(['record', 'demo']);
    expect(await worlds('MethodVersion')).toEqual(['record', 'demo']);
  });

  it.each([
    ['a world that is none', `UPDATE "Account" SET "world" = 'elsewhere'`, 'Account_world'],
    [
      'a second group of one class and world',
      `INSERT INTO "ComparisonGroup" ("id", "cruiseClassKey", "world") VALUES (${ID(9)}, 'kmh-110', 'demo')`,
      'ComparisonGroup_cruiseClassKey_world_key',
    ],
    [
      'a second version in effect in one world',
      `INSERT INTO "MethodVersion" ("id", "label", "engine", "world", "ordinal", "isCurrent", "adoptedById", "summary")
       VALUES (${ID(9)}, 'other', '1', 'demo', 2, true, ${ID(2)}, 'why')`,
      'MethodVersion_one_current',
    ],
    [
      'a second version of one number in one world',
      `INSERT INTO "MethodVersion" ("id", "label", "engine", "world", "ordinal", "isCurrent", "adoptedById", "summary")
       VALUES (${ID(9)}, 'other', '1', 'demo', 1, false, ${ID(2)}, 'why')`,
      'MethodVersion_world_ordinal_key',
    ],
  ])('refuses %s', async (_what, sql, constraint) => {
    await expect(client.query(sql)).rejects.toThrow(constraint);
  });

  it('lets another registry’s world know the same model, and what is new is of the record', async () => {
    await client.query(`
      INSERT INTO "VehicleModel" ("id", "makerId", "slug", "name", "modelYear", "variant", "bodyClass", "kerbMassKg", "world")
        VALUES (${ID(9)}, ${ID(3)}, 'one-there', 'One', 2025, '', 'suv', 2000, 'import:north');
      INSERT INTO "Account" ("id", "displayName", "slug") VALUES (${ID(9)}, 'New', 'new');`);
    expect(await worlds('VehicleModel')).toEqual(['demo', 'import:north']);
    expect(await worlds('Account')).toEqual(['record', 'demo', 'record']);
  });
});
