import { unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { currentActor } from '@/lib/registry/accounts/currentActor';
import { signIn } from '@/lib/registry/accounts/signIn';
import { eraseAccount } from '@/lib/registry/privacy/eraseAccount';
import { ownDataZip } from '@/lib/registry/privacy/ownDataZip';
import { sweepFiles } from '@/lib/registry/privacy/sweepFiles';
import { addEvidence, removeEvidence } from '@/lib/registry/runs/addEvidence';
import { readRun } from '@/lib/registry/runs/run';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { NAMED_FILES } from '@/lib/store/copyTables';
import { freshDatabase } from '@/test/helpers/database';
import {
  approved,
  loopOf,
  person,
  registryOn,
  STRONG_PASSWORD,
  type SubmittedRunRef,
  signedInAs,
  somePhoto,
  submitted,
  tokenOf,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let reviewer: Actor;
let run: SubmittedRunRef;
let draftId: string;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  const { carId, baselineId } = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  const subjects = { carId, setupId: baselineId, loopId };
  run = await approved(registry, tester, reviewer, { ...subjects, startedAtLocal: '2026-05-14T08:00' });
  const draft = await startDraft(registry, tester, { creationKey: crypto.randomUUID(), form: subjects });
  draftId = draft.runId;
  await addEvidence(registry, tester, { runId: draftId, kind: 'startDisplay', bytes: await somePhoto() });
});

async function archiveOf(actor: Actor) {
  const chunks: Uint8Array[] = [];
  for await (const chunk of await ownDataZip(registry, actor)) chunks.push(chunk);
  return unzipSync(new Uint8Array(Buffer.concat(chunks)));
}
const json = (bytes: Uint8Array | undefined) => JSON.parse(new TextDecoder().decode(bytes));

describe('one’s own data', () => {
  it('comes whole, in files that anything reads, without what guards the account, and is in the log', async () => {
    await tokenOf(registry, tester.accountId);
    const archive = await archiveOf(tester);
    expect(json(archive['account.json'])).toMatchObject([
      { displayName: 'Mira Holm', email: 'mira.holm@people.example' },
    ]);
    expect(json(archive['runs.json'])).toHaveLength(2);
    expect(json(archive['sign-ins.json'])).toHaveLength(1);
    for (const part of ['cars', 'loops', 'revisions', 'readings', 'conditions', 'findings', 'results', 'log'])
      expect(json(archive[`${part}.json`]).length, part).toBeGreaterThan(0);
    const photos = Object.keys(archive).filter((name) => name.startsWith('photos/'));
    expect(photos).toHaveLength(json(archive['photos.json']).length);
    const all = Object.entries(archive)
      .filter(([name]) => name.endsWith('.json'))
      .map(([, bytes]) => new TextDecoder().decode(bytes))
      .join('');
    expect(all).not.toMatch(/argon2|auditSalt|passwordHash/);
    expect(
      await prisma.auditEntry.count({ where: { action: 'account.export', actorId: tester.accountId } }),
    ).toBe(1);
  });

  it('is nobody else’s, and no unlocked screen’s', async () => {
    const archive = await archiveOf(reviewer);
    expect(json(archive['runs.json'])).toEqual([]);
    expect(new TextDecoder().decode(archive['account.json'])).not.toContain('Mira');
    await expect(ownDataZip(registry, undefined)).rejects.toThrow(NotAllowed);
    const old = { ...tester, provedAt: new Date(clock.now.getTime() - 60 * 60 * 1000) };
    await expect(ownDataZip(registry, old)).rejects.toThrow(NotAllowed);
    await expect(eraseAccount(registry, old, { isConfirmed: true })).rejects.toThrow(NotAllowed);
  });
});

describe('files that nothing refers to', () => {
  it('go a day after their photo was taken off, and no other does', async () => {
    const bytes = await somePhoto();
    const photo = await addEvidence(registry, tester, { runId: draftId, kind: 'finishDisplay', bytes });
    const { sha256, id } = await prisma.evidenceFile.findUniqueOrThrow({ where: { id: photo.evidenceId } });
    await removeEvidence(registry, tester, { runId: draftId, evidenceId: id });
    expect(await sweepFiles(registry)).toBe(0);
    clock.now = new Date(clock.now.getTime() + 25 * 60 * 60 * 1000);
    const kept = await prisma.evidenceFile.findMany({ where: { removedAt: null } });
    expect(await sweepFiles(registry)).toBe(1);
    expect(await registry.blobs.get(sha256 as never)).toBeNull();
    for (const { sha256: other } of kept) expect(await registry.blobs.has(other as never)).toBe(true);
  });

  it('that no row ever named go as well, a day after they were put; all others stay', async () => {
    const nameless = await registry.blobs.put(Buffer.from('put before a transaction that failed'));
    const named = await prisma.$queryRawUnsafe<{ digest: string }[]>(NAMED_FILES);
    const kept = [];
    for (const { digest } of named) if (await registry.blobs.has(digest as never)) kept.push(digest);
    expect(kept.length).toBeGreaterThan(1);
    // the files’ own clock is the machine’s
    const before = clock.now;
    clock.now = new Date(Date.now() + 60_000);
    expect(await sweepFiles(registry)).toBe(0);
    clock.now = new Date(Date.now() + 25 * 60 * 60 * 1000);
    expect(await sweepFiles(registry)).toBe(1);
    clock.now = before;
    expect(await registry.blobs.has(nameless)).toBe(false);
    for (const digest of kept) expect(await registry.blobs.has(digest as never)).toBe(true);
  });
});

describe('an erased account', () => {
  it('is not that of the only steward, nor one whose runs wait', async () => {
    const steward = await person(registry, 'Petra Lind', 'steward');
    await expect(eraseAccount(registry, steward, { isConfirmed: true })).rejects.toThrow(Conflict);
    await expect(eraseAccount(registry, tester, { isConfirmed: false })).rejects.toThrow(InvalidInput);
    const waiting = await person(registry, 'Ole Sand');
    const { carId, baselineId } = await vehicleOf(registry, waiting, 'Plover');
    const loopId = await loopOf(registry, waiting, 'Harbour ring');
    await submitted(registry, waiting, { carId, setupId: baselineId, loopId });
    await expect(eraseAccount(registry, waiting, { isConfirmed: true })).rejects.toThrow(Conflict);
  });

  it('leaves the record under a name that is nobody’s, and nothing that names the person', async () => {
    const token = await tokenOf(registry, tester.accountId);
    const before = await prisma.countedRun.findMany({ orderBy: { runId: 'asc' } });
    await eraseAccount(registry, await signedInAs(registry, tester.accountId), { isConfirmed: true });
    await expect(eraseAccount(registry, tester, { isConfirmed: true })).rejects.toThrow(Conflict);
    expect(await currentActor(registry, token)).toBeUndefined();
    expect(
      await signIn(registry, { email: 'mira.holm@people.example', password: STRONG_PASSWORD }),
    ).toMatchObject({
      reason: 'wrong',
    });
    expect(await prisma.countedRun.findMany({ orderBy: { runId: 'asc' } })).toEqual(before);
    const view = await readRun(registry, undefined, run.runNumber);
    expect(JSON.stringify(view)).toMatch(/Former tester [a-z2-9]{8}/);
    // Nowhere in the database, in whatever table.
    const tables = await prisma.$queryRaw<{ name: string }[]>`
      SELECT c.relname AS "name" FROM pg_class c
      WHERE c.relkind = 'r' AND c.relnamespace = current_schema()::regnamespace`;
    for (const { name } of tables) {
      const [row] = await prisma.$queryRawUnsafe<{ count: bigint }[]>(
        `SELECT count(*) AS "count" FROM "${name}" t WHERE t::text ~* 'mira.?holm'`,
      );
      expect(Number(row?.count), name).toBe(0);
    }
    expect(await prisma.auditEntry.count({ where: { action: 'account.erase' } })).toBe(1);
  });
});
