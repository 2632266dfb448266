import { createPublicKey, generateKeyPairSync } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { headsIn } from '@/lib/files/sealHeads';
import { trailSealer } from '@/lib/registry/audit/sealTrail';
import { verifyTrail } from '@/lib/registry/audit/verifyTrail';
import { appendAudit } from '@/lib/store/audit';
import { sealKey } from '@/lib/store/server/keptSecret';
import { type Seal, signedSeal } from '@/lib/trail/seal';
import { freshDatabase } from '@/test/helpers/database';
import { person, registryOn } from '@/test/helpers/smallRegistry';

const { prisma, connection } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
clock.now = new Date();
const folder = mkdtempSync(join(tmpdir(), 'evenloop-seals-'));
const heads = headsIn(folder);
const sealer = trailSealer(registry, folder);

const owner = new pg.Client(connection);
await owner.connect();
afterAll(async () => {
  await owner.end();
  remove();
  rmSync(folder, { recursive: true, force: true });
});

const append = (n: number) =>
  appendAudit(prisma, {
    at: new Date(),
    actorId: undefined,
    action: 'test.act',
    subjectKind: 'test',
    subjectId: `${n}`,
    details: { n },
  });
/** Seals until nothing is left; other test files run transactions on the same server. */
async function sealAll(by = sealer): Promise<void> {
  for (let round = 0; round < 400; round += 1) {
    await by.round();
    const last = await prisma.auditSeal.findFirst({ orderBy: { number: 'desc' } });
    if (last && (await prisma.auditEntry.count({ where: { id: { gt: last.toId } } })) === 0) return;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  throw new Error('entries stay unsealed');
}
const verify = async (trusted = [sealKey(folder).then(createPublicKey)]) =>
  verifyTrail(connection, heads, await Promise.all(trusted));

describe('entries are sealed', () => {
  it('those from before under one first seal, then batch by batch, in the database and in the file', async () => {
    await person(registry, 'Mira Holm');
    await sealAll();
    for (let n = 0; n < 5; n += 1) await append(n);
    await sealAll();
    await append(5);
    await sealAll();
    const seals = await prisma.auditSeal.findMany({ orderBy: { number: 'asc' } });
    expect(seals.map(({ number, entries }) => [number, entries])).toEqual([
      [0, 1],
      [1, 5],
      [2, 1],
    ]);
    const lines: Seal[] = [];
    for await (const seal of heads.read()) if (seal) lines.push(seal);
    expect(lines.map(({ hash }) => hash)).toEqual(seals.map(({ hash }) => hash));
    expect(await verify()).toMatchObject({
      seals: 3,
      sealedEntries: 7,
      unsealed: 0,
      finding: undefined,
      head: { number: 2, hash: seals[2]?.hash },
    });
    await append(6);
    expect(await verify()).toMatchObject({ unsealed: 1, finding: undefined });
  });

  it('commits to names, and keeps the seal when an account is erased', async () => {
    const entry = await prisma.auditEntry.findFirstOrThrow({ where: { action: 'account.signUp' } });
    expect(entry).toMatchObject({ personal: { displayName: 'Mira Holm' }, personalOf: entry.actorId });
    expect(JSON.stringify(entry.commitments)).toMatch(/^\{"displayName":"[0-9a-f]{64}"\}$/);
    const forget = () =>
      owner.query(`UPDATE "AuditEntry" SET "personal" = NULL WHERE "personalOf" = $1`, [entry.actorId]);
    await expect(forget()).rejects.toThrow(/append-only/);
    await owner.query(
      `UPDATE "Account" SET "auditSalt" = NULL, "erasedAt" = now(), "email" = NULL, "passwordHash" = NULL WHERE "id" = $1`,
      [entry.actorId],
    );
    await forget();
    await expect(
      owner.query(`UPDATE "AuditEntry" SET "action" = 'x' WHERE "id" = $1`, [entry.id]),
    ).rejects.toThrow(/append-only/);
    expect(await verify()).toMatchObject({ finding: undefined });
    // Without the erasure, the same is a fault.
    await owner.query(`UPDATE "Account" SET "erasedAt" = NULL WHERE "id" = $1`, [entry.actorId]);
    expect((await verify()).finding).toMatchObject({ kind: 'altered', entryId: entry.id });
    await owner.query(`UPDATE "Account" SET "erasedAt" = now() WHERE "id" = $1`, [entry.actorId]);
  });

  it('each once, however many write, and whichever commits last', async () => {
    const before = await prisma.auditEntry.count();
    const second = trailSealer(registry, folder);
    let isWriting = true;
    const writing = Promise.all(
      Array.from({ length: 8 }, async (_, writer) => {
        for (let n = 0; n < 25; n += 1) {
          await prisma
            .$transaction(async (tx) => {
              await appendAudit(tx, {
                at: new Date(),
                actorId: undefined,
                action: 'test.act',
                subjectKind: 'test',
                subjectId: `${writer}/${n}`,
              });
              // Holds its id back for a while; some give theirs up.
              await new Promise((resolve) => setTimeout(resolve, (7 * writer + n) % 40));
              if (n % 6 === 5) throw new Error('taken back');
            })
            .catch((error: Error) => {
              if (error.message !== 'taken back') throw error;
            });
        }
      }),
    ).finally(() => {
      isWriting = false;
    });
    const sealing = [sealer, second].map(async (one) => {
      while (isWriting) {
        await one.round();
        await new Promise((resolve) => setTimeout(resolve, 10));
      }
    });
    await Promise.all([writing, ...sealing]);
    await sealAll();
    const written = (await prisma.auditEntry.count()) - before;
    expect(written).toBe(8 * 21);
    const sealed = await prisma.auditSeal.findMany({ orderBy: { number: 'asc' } });
    expect(sealed.reduce((sum, { entries }) => sum + entries, 0)).toBe(before + written);
    expect(sealed.length).toBeGreaterThan(5);
    expect(await verify()).toMatchObject({
      sealedEntries: before + written,
      unsealed: 0,
      finding: undefined,
    });
  });

  it('waits for whoever drew an id earlier and is still at it', async () => {
    const slow = new pg.Client(connection);
    await slow.connect();
    const insert = `INSERT INTO "AuditEntry" ("at", "action", "subjectKind", "subjectId") VALUES (now(), 'test.slow', 'test', 's') RETURNING "id"`;
    await slow.query('BEGIN');
    const { rows } = await slow.query(insert);
    await append(100);
    for (let round = 0; round < 5; round += 1) await sealer.round();
    const head = await prisma.auditSeal.findFirstOrThrow({ orderBy: { number: 'desc' } });
    expect(head.toId).toBeLessThan(BigInt(rows[0].id));
    await slow.query('COMMIT');
    await slow.end();
    await sealAll();
    const sealed = await prisma.auditSeal.findFirstOrThrow({ orderBy: { number: 'desc' } });
    expect(sealed).toMatchObject({ number: head.number + 1, entries: 2 });
  });

  it('waits for whoever drew the last id, with no later transaction ended', async () => {
    const slow = new pg.Client(connection);
    await slow.connect();
    await slow.query('BEGIN');
    await slow.query(
      `INSERT INTO "AuditEntry" ("at", "action", "subjectKind", "subjectId") VALUES (now(), 'test.last', 'test', 'l')`,
    );
    const head = await prisma.auditSeal.findFirstOrThrow({ orderBy: { number: 'desc' } });
    for (let round = 0; round < 5; round += 1) expect(await sealer.round()).toBe(0);
    await slow.query('COMMIT');
    await slow.end();
    await sealAll();
    const sealed = await prisma.auditSeal.findFirstOrThrow({ orderBy: { number: 'desc' } });
    expect(sealed).toMatchObject({ number: head.number + 1, entries: 1 });
  });

  it('goes on after a crash between database and file', async () => {
    const whole = await readFile(heads.file, 'utf8');
    const lines = whole.trimEnd().split('\n');
    await writeFile(heads.file, `${lines.slice(0, -1).join('\n')}\n`);
    const restarted = trailSealer(registry, folder);
    await restarted.round();
    expect(await readFile(heads.file, 'utf8')).toBe(whole);
  });
});

describe('the owner of the tables', () => {
  const tables = ['AuditEntry', 'AuditSeal'];
  let file: string;

  beforeAll(async () => {
    file = await readFile(heads.file, 'utf8');
    for (const table of tables) await owner.query(`CREATE TABLE "kept${table}" AS TABLE "${table}"`);
  });
  afterEach(async () => {
    for (const table of tables) {
      await owner.query(`ALTER TABLE "${table}" DISABLE TRIGGER USER`);
      await owner.query(`TRUNCATE "${table}"`);
      await owner.query(`INSERT INTO "${table}" SELECT * FROM "kept${table}"`);
      await owner.query(`ALTER TABLE "${table}" ENABLE TRIGGER USER`);
    }
    await writeFile(heads.file, file);
    expect((await verify()).finding).toBeUndefined();
  });

  async function tamper(...statements: string[]) {
    for (const table of tables) await owner.query(`ALTER TABLE "${table}" DISABLE TRIGGER USER`);
    for (const statement of statements) await owner.query(statement);
    return (await verify()).finding;
  }
  /** The ids of entries that tests wrote, by their place. */
  async function idOf(place: number): Promise<bigint> {
    const { rows } = await owner.query(
      `SELECT "id" FROM "AuditEntry" WHERE "action" = 'test.act' ORDER BY "id" OFFSET ${place} LIMIT 1`,
    );
    return BigInt(rows[0].id);
  }

  it('alters an entry, and it is named', async () => {
    const id = await idOf(2);
    expect(await tamper(`UPDATE "AuditEntry" SET "details" = '{"n": 77}' WHERE "id" = ${id}`)).toMatchObject({
      kind: 'altered',
      entryId: id,
    });
  });

  it('removes entries, within and at the end with their seal, and the first is named', async () => {
    const [within, late] = [await idOf(3), await idOf(30)];
    expect(await tamper(`DELETE FROM "AuditEntry" WHERE "id" = ${within}`)).toMatchObject({
      kind: 'removed',
      entryId: within,
    });
    await owner.query(`TRUNCATE "AuditEntry"`);
    await owner.query(`INSERT INTO "AuditEntry" SELECT * FROM "keptAuditEntry"`);
    expect(
      await tamper(
        `DELETE FROM "AuditSeal" WHERE "toId" >= ${late}`,
        `DELETE FROM "AuditEntry" WHERE "id" >= ${late}`,
      ),
    ).toMatchObject({ kind: 'removed', entryId: late });
    // Nor is sealed over what is gone.
    await expect(trailSealer(registry, folder).round()).rejects.toThrow(/not sealed further/);
  });

  it('puts one in, reorders two and backdates one, and each is named', async () => {
    const [a, b] = [await idOf(1), await idOf(4)];
    const gap = (await owner.query('SELECT max("id") + 1 AS "id" FROM "AuditEntry"')).rows[0].id;
    expect(
      await tamper(
        `INSERT INTO "AuditEntry" ("id", "at", "action", "subjectKind", "subjectId") VALUES (0, now(), 'run.approve', 'run', 'x')`,
      ),
    ).toMatchObject({ kind: 'inserted', entryId: 0n });
    await owner.query(`DELETE FROM "AuditEntry" WHERE "id" = 0`);
    expect(
      await tamper(
        `UPDATE "AuditEntry" SET "id" = ${gap} WHERE "id" = ${a}`,
        `UPDATE "AuditEntry" SET "id" = ${a} WHERE "id" = ${b}`,
        `UPDATE "AuditEntry" SET "id" = ${b} WHERE "id" = ${gap}`,
      ),
    ).toMatchObject({ kind: 'reordered', entryId: a });
    await owner.query(`TRUNCATE "AuditEntry"`);
    await owner.query(`INSERT INTO "AuditEntry" SELECT * FROM "keptAuditEntry"`);
    expect(
      await tamper(
        `UPDATE "AuditEntry" SET "at" = '2026-01-05', "writtenAt" = '2026-01-05' WHERE "id" = ${b}`,
      ),
    ).toMatchObject({ kind: 'backdated', entryId: b });
  });

  it('rewrites marks and seals as well, with a key of their own, and the entry is named all the same', async () => {
    const id = await idOf(10);
    const { privateKey } = generateKeyPairSync('ed25519');
    const rewritten = await prisma.auditSeal.findFirstOrThrow({
      where: { toId: { gte: id } },
      orderBy: { number: 'asc' },
    });
    const forged = signedSeal(
      { ...rewritten, marks: new Uint8Array(rewritten.marks.byteLength) },
      privateKey,
    );
    const finding = await tamper(
      `UPDATE "AuditEntry" SET "subjectId" = 'forged' WHERE "id" = ${id}`,
      `UPDATE "AuditSeal" SET "hash" = '${forged.hash}', "signature" = '${forged.signature}', "keyId" = '${forged.keyId}',
         "marks" = '\\x${Buffer.from(forged.marks).toString('hex')}' WHERE "number" = ${forged.number}`,
    );
    expect(finding).toMatchObject({ kind: 'altered', entryId: id });
  });

  it('rewrites a seal alone, or takes it away, and the seal is named', async () => {
    expect(await tamper(`UPDATE "AuditSeal" SET "sealedAt" = now() WHERE "number" = 1`)).toMatchObject({
      kind: 'seal',
      says: expect.stringContaining('seal 1'),
    });
    expect(await tamper(`DELETE FROM "AuditSeal" WHERE "number" = 2`)).toMatchObject({ kind: 'seal' });
  });

  it('cannot have a forged seal put into the file', async () => {
    const last = await prisma.auditSeal.findFirstOrThrow({ orderBy: { number: 'desc' } });
    const { privateKey } = generateKeyPairSync('ed25519');
    const forged = signedSeal(
      {
        ...last,
        number: last.number + 1,
        fromId: last.toId + 1n,
        toId: last.toId + 5n,
        previousHash: last.hash,
        marks: new Uint8Array(),
      },
      privateKey,
    );
    await prisma.auditSeal.create({ data: { ...forged, marks: new Uint8Array(), entries: 0 } });
    await expect(trailSealer(registry, folder).round()).rejects.toThrow(/not sealed further/);
    expect(await readFile(heads.file, 'utf8')).toBe(file);
    expect((await verify()).finding).toMatchObject({ kind: 'seal' });
  });

  it('gains nothing where the file is lost or damaged: that is told', async () => {
    await writeFile(heads.file, '');
    expect((await verify()).finding?.says).toContain('file of heads is missing');
    await writeFile(heads.file, file.replace('"number":1,', '"number":1;'));
    expect((await verify()).finding?.says).toContain('is no seal');
  });
});
