import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { btree_gin } from '@electric-sql/pglite/contrib/btree_gin';
import { btree_gist } from '@electric-sql/pglite/contrib/btree_gist';
import { citext } from '@electric-sql/pglite/contrib/citext';
import { pg_trgm } from '@electric-sql/pglite/contrib/pg_trgm';
import { unaccent } from '@electric-sql/pglite/contrib/unaccent';
import { bindMigrationAwareSqlAdapterFactory } from '@prisma/driver-adapter-utils';
import { PrismaPGlite } from 'pglite-prisma-adapter';
import { MigrationError, type MigrationFile, readMigrations } from './migrationFolder';

/** Prisma's schema engine as WebAssembly: it works with no download and no server. */
type SchemaEngineModule = typeof import('@prisma/schema-engine-wasm/schema_engine_bg');

export type SchemaDifference = {
  /** The SQL that takes the migrated state to the schema; empty when they agree. */
  readonly sql: string;
  readonly isEmpty: boolean;
};

/**
 * What is missing from the migrations to reach the Prisma schema, as SQL.
 *
 * The existing migrations are run by us on an in-memory PostgreSQL (PGlite), not through the engine,
 * which was seen to report a broken migration as applied. The engine then compares that database with
 * the schema. It looks at what a Prisma schema can say: check constraints, triggers, functions and
 * partial indexes written by hand in a migration are kept and not compared.
 */
export async function schemaDifference(
  schemaFile: string,
  migrationsFolder: string,
): Promise<SchemaDifference> {
  const schema = await readFile(schemaFile, 'utf8');
  const database = await migratedInMemory(await readMigrations(migrationsFolder));
  try {
    const files = [{ path: schemaFile, content: schema }];
    const { SchemaEngine } = await schemaEngine();
    const engine = await SchemaEngine.new(
      { datamodels: [[schemaFile, schema]] },
      ignoreLog,
      adapterOver(database),
    );
    const result = await engine.diff({
      from: { tag: 'schemaDatasource', files, configDir: dirname(schemaFile) },
      to: { tag: 'schemaDatamodel', files },
      script: true,
      exitCode: true,
      filters: { externalTables: [], externalEnums: [] },
    });
    // Exit code 2 is the engine's way to say "there is a difference"; 0 says "none".
    const isEmpty = result.exitCode === 0;
    return { isEmpty, sql: isEmpty ? '' : (result.stdout ?? '') };
  } finally {
    await database.close();
  }
}

async function migratedInMemory(migrations: readonly MigrationFile[]): Promise<PGlite> {
  const database = await PGlite.create({ extensions: { btree_gin, btree_gist, citext, pg_trgm, unaccent } });
  for (const { name, sql } of migrations) {
    try {
      await database.transaction((transaction) => transaction.exec(sql));
    } catch (error) {
      await database.close();
      const reason = error instanceof Error ? error.message : String(error);
      throw new MigrationError(name, `Migration ${name} fails: ${reason}`, { cause: error });
    }
  }
  return database;
}

function adapterOver(database: PGlite) {
  const factory = new PrismaPGlite(database);
  return bindMigrationAwareSqlAdapterFactory({
    provider: factory.provider,
    adapterName: factory.adapterName,
    connect: () => factory.connect(),
    connectToShadowDb: () => factory.connectToShadowDb(),
  });
}

let loaded: Promise<SchemaEngineModule> | undefined;

/** The module keeps its WebAssembly instance in one variable: it can be loaded only once. */
function schemaEngine(): Promise<SchemaEngineModule> {
  loaded ??= loadSchemaEngine();
  return loaded;
}

/**
 * The package's own entry imports the .wasm file as a module, which Node does only behind a flag:
 * instantiate it by hand from its bytes instead.
 */
async function loadSchemaEngine(): Promise<SchemaEngineModule> {
  const module: SchemaEngineModule = await import('@prisma/schema-engine-wasm/schema_engine_bg');
  const entry = createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm/schema_engine_bg');
  const bytes = await readFile(join(dirname(entry), 'schema_engine_bg.wasm'));
  const { instance } = await WebAssembly.instantiate(bytes, { './schema_engine_bg.js': { ...module } });
  module.__wbg_set_wasm(instance.exports);
  const start = instance.exports.__wbindgen_start;
  if (typeof start !== 'function') throw new Error('The schema engine has no start function.');
  start();
  return module;
}

/** The engine logs its own start as JSON; nobody needs it. */
function ignoreLog(): void {}
