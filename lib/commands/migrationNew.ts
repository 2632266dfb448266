import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { readMigrations } from '@/lib/store/migrate/migrationFolder';
import { schemaDifference } from '@/lib/store/migrate/schemaDifference';

const usage = `Usage: npm run migration:new -- <name>     write prisma/migrations/<time>_<name>/migration.sql
       npm run migration:new -- --check    exit 1 when schema and migrations differ
       npm run migration:new -- <name> --empty    write an empty migration to fill by hand`;

/** `npm run migration:new`: the SQL that takes the existing migrations to prisma/schema.prisma. */
async function main(): Promise<number> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      check: { type: 'boolean', default: false },
      empty: { type: 'boolean', default: false },
      schema: { type: 'string', default: join('prisma', 'schema.prisma') },
      migrations: { type: 'string', default: join('prisma', 'migrations') },
    },
  });
  if (values.check) return check(values.schema, values.migrations);
  const name = fileName(positionals.join('_'));
  if (name === '') {
    console.error(usage);
    return 2;
  }
  const difference = values.empty
    ? { isEmpty: false, sql: '-- Write the SQL here.\n' }
    : await schemaDifference(values.schema, values.migrations);
  if (difference.isEmpty) {
    console.log('Schema and migrations agree: nothing to write.');
    return 0;
  }
  console.log(`Wrote ${await write(values.migrations, name, difference.sql)}. Read it before you commit it.`);
  return 0;
}

async function check(schema: string, migrations: string): Promise<number> {
  const difference = await schemaDifference(schema, migrations);
  if (difference.isEmpty) {
    console.log('Schema and migrations agree.');
    return 0;
  }
  console.error(`${schema} is ahead of ${migrations} by:\n\n${difference.sql}`);
  console.error('Run: npm run migration:new -- <name>');
  return 1;
}

async function write(migrations: string, name: string, sql: string): Promise<string> {
  const folder = join(migrations, `${await nextTime(migrations)}_${name}`);
  const file = join(folder, 'migration.sql');
  await mkdir(folder, { recursive: true });
  await writeFile(file, sql);
  return file;
}

/** Now as 14 digits in UTC, pushed past the newest migration so that the order of writing is kept. */
async function nextTime(migrations: string): Promise<string> {
  const now = new Date().toISOString().replace(/\D/g, '').slice(0, 14);
  const newest = (await readMigrations(migrations)).at(-1)?.name.slice(0, 14) ?? '';
  return now > newest ? now : String(BigInt(newest) + 1n);
}

function fileName(words: string): string {
  return words
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^_+|_+$/g, '');
}

main().then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    console.error(error instanceof Error ? error.message : error);
    process.exitCode = 1;
  },
);
