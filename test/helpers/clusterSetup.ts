import { randomBytes } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import pg from 'pg';
import type { TestProject } from 'vitest/node';
import { databaseVariable } from '@/lib/store/connection';
import { applyMigrations } from '@/lib/store/migrate/applyMigrations';
import { databaseUrl, ensureServer } from '@/lib/store/server/ensureServer';
import { keepStacks } from './keepStacks';

declare module 'vitest' {
  export interface ProvidedContext {
    /** Maintenance connection that may create and drop databases, as a URL. */
    adminUrl: string;
    /** A migrated database that nobody connects to: test databases are copies of it. */
    templateDatabase: string;
  }
}

const migrations = resolve(import.meta.dirname, '../../prisma/migrations');

/**
 * Once a test run: one PostgreSQL (an embedded cluster in a temporary folder, or the plain server named
 * by TEST_DATABASE_URL or DATABASE_URL) and in it one migrated template database.
 */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  keepStacks();
  const given = process.env.TEST_DATABASE_URL ?? process.env.DATABASE_URL;
  // Tests reach databases made for them only: whatever asks the environment for one finds none.
  delete process.env.DATABASE_URL;
  process.env[databaseVariable] = JSON.stringify({ host: '/a-test-must-call-freshDatabase', port: 5432 });
  const { adminUrl, stop } = given ? { adminUrl: given, stop: async () => {} } : await embeddedCluster();
  const templateDatabase = `evenloop_template_${randomBytes(4).toString('hex')}`;
  try {
    await maintain(adminUrl, `create database ${templateDatabase}`);
    await applyMigrations({ connectionString: urlOf(adminUrl, templateDatabase) }, migrations);
  } catch (error) {
    await stop();
    throw error;
  }
  project.provide('adminUrl', adminUrl);
  project.provide('templateDatabase', templateDatabase);
  return async () => {
    await maintain(adminUrl, `drop database if exists ${templateDatabase} with (force)`);
    await stop();
  };
}

async function embeddedCluster() {
  const folder = await mkdtemp(join(tmpdir(), 'evenloop-test-'));
  const server = await ensureServer(folder, { durable: false });
  return {
    adminUrl: databaseUrl(server.adminConnection),
    stop: async () => {
      await server.release();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

export function urlOf(adminUrl: string, database: string): string {
  const url = new URL(adminUrl);
  url.pathname = `/${database}`;
  return url.href;
}

export async function maintain(adminUrl: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: adminUrl });
  await client.connect();
  try {
    await client.query(statement);
  } finally {
    await client.end();
  }
}
