import { createHash, createPublicKey } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { folderBlobStore } from '@/lib/files/folderBlobStore';
import { headsIn } from '@/lib/files/sealHeads';
import { snapshotFolder } from '@/lib/files/snapshotFolder';
import { signIn } from '@/lib/registry/accounts/signIn';
import { trailSealer } from '@/lib/registry/audit/sealTrail';
import { verifyTrail } from '@/lib/registry/audit/verifyTrail';
import { BadBackup, checkBackup, type Manifest } from '@/lib/registry/backup/manifest';
import { refuseFilledFolder, restoreBackup, TargetNotEmpty } from '@/lib/registry/backup/restoreBackup';
import { writeBackup } from '@/lib/registry/backup/writeBackup';
import { readRun } from '@/lib/registry/runs/run';
import { appendAudit } from '@/lib/store/audit';
import { applyMigrations } from '@/lib/store/migrate/applyMigrations';
import { sealKey, sessionSecret } from '@/lib/store/server/keptSecret';
import { insertSnapshot } from '@/lib/store/snapshots';
import { PrismaClient } from '@/prisma/generated/client';
import { bareDatabase, freshDatabase } from '@/test/helpers/database';
import {
  approved,
  loopOf,
  person,
  registryOn,
  STRONG_PASSWORD,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma, connection } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
clock.now = new Date();
const root = mkdtempSync(join(tmpdir(), 'evenloop-backup-'));
const folder = join(root, 'from');
const migrationsFolder = resolve(import.meta.dirname, '../../../prisma/migrations');
const sealer = trailSealer(registry, folder);
const now = () => new Date();

/** Larger than what is held at a time, and no repetition of itself. */
const snapshot = createHash('shake256', { outputLength: 5_000_000 }).update('a snapshot').digest();
const snapshotDigest = createHash('sha256').update(snapshot).digest('hex');

let runNumber: number;
let manifest: Manifest;
const file = join(root, 'first.backup');

const source = { connection, dataFolder: folder, blobs: registry.blobs, now };
const targetOn = (to: { connectionString: string }, name: string) => ({
  connection: to,
  dataFolder: join(root, name),
  blobs: folderBlobStore(join(root, name, 'blobs')),
  migrationsFolder,
  now,
});

beforeAll(async () => {
  const tester = await person(registry, 'Mira Holm');
  const reviewer = await person(registry, 'Ada Lund', 'reviewer');
  const { carId, baselineId } = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  const form = {
    carId,
    setupId: baselineId,
    loopId,
    startedAtLocal: '2026-06-01T09:00',
    notes: 'tab\there\\ and “—”\nline',
  };
  ({ runNumber } = await approved(registry, tester, reviewer, form));
  await sessionSecret(folder);
  for (const [number, digest] of [snapshotDigest, 'f'.repeat(64)].entries())
    await insertSnapshot(prisma, {
      world: 'record',
      name: `evenloop-record-${number}.zip`,
      sha256: digest,
      sizeBytes: snapshot.length,
      dataSha256: digest,
      keyId: 'none',
      methodVersion: 'none',
      licence: 'CC-BY-4.0',
      asOf: now(),
      publishedAt: now(),
      rows: {},
    });
  await mkdir(join(folder, 'snapshots'), { recursive: true });
  await writeFile(join(folder, 'snapshots', `${snapshotDigest}.zip`), snapshot);
  // A transaction anywhere on the server keeps what is newer than it from being sealed: that of another test, too.
  await vi.waitUntil(() => sealer.round().then(async () => (await prisma.auditSeal.count()) > 0), {
    timeout: 20_000,
  });
  // Others write and seal while it is made.
  let isWriting = true;
  const writing = (async () => {
    for (let n = 0; isWriting; n += 1) {
      await appendAudit(prisma, {
        at: now(),
        actorId: undefined,
        action: 'test.act',
        subjectKind: 'test',
        subjectId: `${n}`,
      });
      await sealer.round();
    }
  })();
  manifest = await writeBackup(source, file).finally(() => {
    isWriting = false;
  });
  await writing;
});

afterAll(() => {
  remove();
  rmSync(root, { recursive: true, force: true });
});

/** What the database holds beside rows: keys, checks, triggers and whether they are at work. */
async function structure(of: pg.ClientConfig): Promise<string[]> {
  const client = new pg.Client(of);
  await client.connect();
  try {
    const { rows } = await client.query(
      `SELECT conrelid::regclass || ' ' || conname || ' ' || pg_get_constraintdef(oid) || convalidated AS "is"
       FROM pg_constraint WHERE connamespace = 'public'::regnamespace
       UNION ALL SELECT tgrelid::regclass || ' ' || tgname || ' ' || tgenabled::text FROM pg_trigger WHERE NOT tgisinternal
       UNION ALL SELECT indexdef FROM pg_indexes WHERE schemaname = 'public' ORDER BY 1`,
    );
    return rows.map((row) => row.is);
  } finally {
    await client.end();
  }
}

describe('a backup', () => {
  it('restored elsewhere is the same registry: counts, structure, files, a trail that verifies, a sign-in that works', async () => {
    const database = await bareDatabase();
    const target = targetOn(database.connection, 'to');
    await restoreBackup(file, target);
    const there = new PrismaClient({ adapter: new PrismaPg(database.connection) });
    try {
      const counts = await there.$queryRaw<{ name: string; rows: number }[]>`
        SELECT relname::text AS "name", (xpath('/row/c/text()', query_to_xml(format('SELECT count(*) AS c FROM %I', relname), false, true, '')))[1]::text::int AS "rows"
        FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace AND relname <> 'schema_migration' ORDER BY relname`;
      const expected = manifest.tables.map(({ name, rows }) => ({
        name,
        // The restoring itself is told.
        rows: name === 'AuditEntry' ? rows + 1 : rows,
      }));
      expect(counts.length).toBeGreaterThan(40);
      expect(counts.sort((a, b) => (a.name < b.name ? -1 : 1))).toEqual(
        expected.sort((a, b) => (a.name < b.name ? -1 : 1)),
      );
      expect(await structure(database.connection)).toEqual(await structure(connection));

      const restored = { ...registry, db: there, blobs: target.blobs };
      expect(
        await signIn(restored, { email: 'mira.holm@people.example', password: STRONG_PASSWORD }),
      ).toMatchObject({
        ok: true,
      });
      const view = await readRun(restored, undefined, runNumber);
      expect(view?.result).toEqual((await readRun(registry, undefined, runNumber))?.result);
      expect(view?.notes).toBe('tab\there\\ and “—”\nline');
      const photos = await there.evidenceFile.findMany({ select: { sha256: true, thumbSha256: true } });
      expect(photos).toHaveLength(2);
      for (const { sha256, thumbSha256 } of photos)
        for (const digest of [sha256, thumbSha256])
          expect(await target.blobs.get(digest as Parameters<typeof target.blobs.get>[0])).not.toBeNull();
      // Whoever cites a snapshot finds it again.
      const restoredSnapshot = await snapshotFolder(target.dataFolder).open(snapshotDigest);
      expect(restoredSnapshot?.sizeBytes).toBe(snapshot.length);
      const bytes = await readFile(join(target.dataFolder, 'snapshots', `${snapshotDigest}.zip`));
      expect(bytes.equals(snapshot)).toBe(true);
      expect(await readFile(join(target.dataFolder, 'secret'), 'utf8')).toBe(
        await readFile(join(folder, 'secret'), 'utf8'),
      );

      const verify = async () =>
        verifyTrail(database.connection, headsIn(target.dataFolder), [
          createPublicKey(await sealKey(folder)),
        ]);
      const before = await verify();
      expect(before).toMatchObject({ finding: undefined });
      expect(before.seals).toBeGreaterThan(0);
      // And the chain goes on there, with the ids after those that were there.
      const sealing = trailSealer(restored, target.dataFolder);
      await expect
        .poll(() => sealing.round().then(async () => (await verify()).unsealed), { timeout: 20_000 })
        .toBe(0);
      const after = await verify();
      expect(after.finding).toBeUndefined();
      expect(after.seals).toBeGreaterThan(before.seals);
    } finally {
      await there.$disconnect();
      await database.drop();
    }
  });

  it('says that it was made, holds one moment of a registry in use, and leaves nothing half-made', async () => {
    const rows = (name: string) => manifest.tables.find((table) => table.name === name)?.rows ?? 0;
    expect(await prisma.auditEntry.count({ where: { action: 'registry.backUp' } })).toBe(1);
    expect(await prisma.auditEntry.count()).toBeGreaterThan(rows('AuditEntry'));
    expect(rows('Run')).toBe(1);
    expect(manifest.missingBlobs).toEqual([]);
    expect(manifest).toMatchObject({ snapshots: 1, missingSnapshots: ['f'.repeat(64)] });
    // The same picture twice is one file.
    expect(manifest.blobs).toBe(2);
    expect((await readdir(root)).filter((name) => name.includes('unfinished'))).toEqual([]);
    await expect(
      writeBackup(
        { ...source, connection: { connectionString: 'postgresql://127.0.0.1:1/none' } },
        join(root, 'none'),
      ),
    ).rejects.toThrow();
    expect((await readdir(root)).filter((name) => name.startsWith('none'))).toEqual([]);
  });

  it('that is damaged, cut off or none is refused before anything is written', async () => {
    const whole = await readFile(file);
    const database = await bareDatabase();
    const bad = join(root, 'bad.backup');
    const flipped = Buffer.from(whole);
    const middle = Math.floor(whole.length / 2);
    flipped.writeUInt8(flipped.readUInt8(middle) ^ 0x10, middle);
    for (const bytes of [
      flipped,
      whole.subarray(0, middle),
      Buffer.from('no backup at all'),
      Buffer.alloc(0),
    ]) {
      await writeFile(bad, bytes);
      await expect(restoreBackup(bad, targetOn(database.connection, 'bad'))).rejects.toThrow(BadBackup);
    }
    expect((await structure(database.connection)).length).toBe(0);
    await database.drop();
    expect((await checkBackup(file)).manifest).toEqual(manifest);
  });

  it('never goes over what is there', async () => {
    await expect(restoreBackup(file, targetOn(connection, 'over'))).rejects.toThrow(TargetNotEmpty);
    await expect(refuseFilledFolder(folder)).rejects.toThrow(TargetNotEmpty);
    await refuseFilledFolder(join(root, 'not there'));
  });

  it('of an earlier version is restored and then brought up to date; that of a later one is refused', async () => {
    const [old, to] = [await bareDatabase(), await bareDatabase()];
    try {
      const beforeSeals = '20261126173900_factors_across_models';
      await applyMigrations(old.connection, migrationsFolder, beforeSeals);
      const client = new pg.Client(old.connection);
      await client.connect();
      await client.query(
        `INSERT INTO "Account" ("id", "email", "displayName", "slug") VALUES (gen_random_uuid(), 'old@people.example', 'Old', 'old')`,
      );
      await client.end();
      const earlier = join(root, 'earlier.backup');
      await writeBackup({ ...source, connection: old.connection }, earlier);
      const short = mkdtempSync(join(root, 'migrations-'));
      await expect(
        restoreBackup(file, { ...targetOn(to.connection, 'later'), migrationsFolder: short }),
      ).rejects.toThrow(/another version/);
      await restoreBackup(earlier, targetOn(to.connection, 'earlier'));
      const there = new pg.Client(to.connection);
      await there.connect();
      const { rows } = await there.query(
        `SELECT "displayName", octet_length("auditSalt") AS "salt" FROM "Account"`,
      );
      await there.end();
      expect(rows).toEqual([{ displayName: 'Old', salt: 32 }]);
    } finally {
      await old.drop();
      await to.drop();
    }
  });
});
