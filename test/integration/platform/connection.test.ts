import { existsSync } from 'node:fs';
import { chmod, mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { openStore } from '@/lib/commands/openStore';
import { closePrisma, prisma } from '@/lib/store/client';
import { connectionFromEnvironment, databaseVariable } from '@/lib/store/connection';
import { keptSecret, sessionSecret } from '@/lib/store/server/keptSecret';

let folder: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'evenloop-connection-'));
  // The server's user must be able to pass.
  await chmod(folder, 0o755);
  vi.stubEnv('DATABASE_URL', '');
  vi.stubEnv(databaseVariable, '');
  vi.stubEnv('EVENLOOP_DATA', join(folder, 'data'));
});

afterEach(async () => {
  await closePrisma();
  vi.unstubAllEnvs();
  await rm(folder, { recursive: true, force: true });
});

describe('connectionFromEnvironment', () => {
  it('lets DATABASE_URL win and starts no server for it', async () => {
    vi.stubEnv('DATABASE_URL', 'postgresql://somebody@example.test/theirs');
    vi.stubEnv(databaseVariable, JSON.stringify({ host: '/elsewhere' }));
    const { connection } = await connectionFromEnvironment();
    expect(connection).toEqual({ connectionString: 'postgresql://somebody@example.test/theirs' });
    expect(existsSync(join(folder, 'data'))).toBe(false);
  });

  it('takes what a parent process passed on', async () => {
    const passed = { host: '/elsewhere', port: 5432, user: 'evenloop', password: 'x', database: 'evenloop' };
    vi.stubEnv(databaseVariable, JSON.stringify(passed));
    expect((await connectionFromEnvironment()).connection).toEqual({ ...passed, ssl: false });
    expect(existsSync(join(folder, 'data'))).toBe(false);
  });
});

describe('the process’s client', () => {
  it('opens nothing when made, the embedded server at the first query, and stops it when closed', async () => {
    const client = prisma();
    expect(prisma()).toBe(client);
    expect(existsSync(join(folder, 'data'))).toBe(false);
    expect(await client.$queryRaw`select current_database() as name`).toEqual([{ name: 'evenloop' }]);
    expect(existsSync(join(folder, 'data', 'postgres', 'postmaster.pid'))).toBe(true);
    await closePrisma();
    expect(existsSync(join(folder, 'data', 'postgres', 'postmaster.pid'))).toBe(false);
    expect(prisma()).not.toBe(client);
  });

  it('finds an opened store, brought up to date, and so does a child process', async () => {
    const store = await openStore();
    expect(store.place).toBe(join(folder, 'data'));
    expect(store.applied.length).toBeGreaterThan(0);
    const [recorded] = await prisma().$queryRaw<{ total: number }[]>`
      select count(*)::int as total from schema_migration`;
    expect(recorded?.total).toBe(store.applied.length);
    // What is asked again and again the server keeps planned; what is asked twice it does not.
    for (const select of [{ id: true }, { slug: true }] as const)
      for (let times = select.id ? 4 : 2; times > 0; times--) await prisma().account.findFirst({ select });
    const kept = await prisma().$queryRaw<{ statement: string }[]>`
      select statement from pg_prepared_statements where statement like '%"Account"%'`;
    expect(kept.map(({ statement }) => /"Account"\."(\w+)" FROM/.exec(statement)?.[1])).toEqual(['id']);
    const { connection } = await connectionFromEnvironment();
    expect(connection.host).toBe(join(folder, 'data'));
    await store.close();
    expect(process.env[databaseVariable]).toBeFalsy();
    expect(existsSync(join(folder, 'data', 'postgres', 'postmaster.pid'))).toBe(false);
    const again = await openStore();
    expect(again.applied).toEqual([]);
    await again.close();
  });
});

describe('a kept secret', () => {
  it('is made once, for its owner only, and the same for all who come first together', async () => {
    const file = join(folder, 'secret');
    const secrets = await Promise.all(Array.from({ length: 8 }, () => keptSecret(file)));
    expect(new Set(secrets).size).toBe(1);
    // 32 random bytes in base64url, without padding (RFC 4648, section 5).
    expect(secrets[0]).toMatch(/^[\w-]{43}$/);
    expect((await stat(file)).mode & 0o777).toBe(0o600);
    expect(await sessionSecret(folder)).toBe(secrets[0]);
  });
});
