import { randomBytes } from 'node:crypto';
import { PrismaPg } from '@prisma/adapter-pg';
import { afterAll, inject } from 'vitest';
import { replacePrisma, transactionOptions } from '@/lib/store/client';
import { statementNames } from '@/lib/store/statementNames';
import { PrismaClient } from '@/prisma/generated/client';
import { maintain, urlOf } from './clusterSetup';

export type FreshDatabase = {
  readonly prisma: PrismaClient;
  readonly connection: { readonly connectionString: string };
};

/**
 * A migrated, empty database of the test file's own: call it at the top of the file,
 * `const { prisma } = await freshDatabase();`. It is also what `prisma()` of lib/store/client gives in
 * this file, and is dropped when the file is done.
 */
export async function freshDatabase(): Promise<FreshDatabase> {
  const { connection, drop } = await databaseFrom(inject('templateDatabase'));
  const prisma = new PrismaClient({
    adapter: new PrismaPg(connection, { statementNameGenerator: statementNames() }),
    transactionOptions,
  });
  replacePrisma(prisma);
  afterAll(async () => {
    await prisma.$disconnect();
    await drop();
  });
  return { prisma, connection };
}

/** A database without tables, for tests of what makes them. The caller drops it. */
export function bareDatabase(): Promise<DroppableDatabase> {
  return databaseFrom('template0');
}

export type DroppableDatabase = {
  readonly connection: { readonly connectionString: string };
  readonly drop: () => Promise<void>;
};

async function databaseFrom(template: string): Promise<DroppableDatabase> {
  const adminUrl = inject('adminUrl');
  const name = `evenloop_test_${randomBytes(6).toString('hex')}`;
  await maintain(adminUrl, `create database ${name} template ${template} strategy file_copy`);
  return {
    connection: { connectionString: urlOf(adminUrl, name) },
    drop: () => maintain(adminUrl, `drop database if exists ${name} with (force)`),
  };
}
