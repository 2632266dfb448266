import { afterAll, describe, expect, it } from 'vitest';
import { signIn } from '@/lib/registry/accounts/signIn';
import { readAuditLog } from '@/lib/registry/audit/auditLog';
import { closeRepeats, recordRefusal } from '@/lib/registry/audit/recordAct';
import { evidenceFile } from '@/lib/registry/runs/evidenceFile';
import { retractRun } from '@/lib/registry/runs/retractRun';
import { readRun } from '@/lib/registry/runs/run';
import { NotAllowed } from '@/lib/run/errors';
import { freshDatabase } from '@/test/helpers/database';
import {
  loopOf,
  person,
  registryOn,
  STRONG_PASSWORD,
  submitted,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const tester = await person(registry, 'Mira Holm');
const reviewer = await person(registry, 'Ada Lund', 'reviewer');
const steward = await person(registry, 'Sol Berg', 'steward');
const vehicle = await vehicleOf(registry, tester);
const loopId = await loopOf(registry, tester);
const run = await submitted(registry, tester, {
  carId: vehicle.carId,
  setupId: vehicle.baselineId,
  loopId,
  startedAtLocal: '2026-06-01T09:00',
});

const told = (action: string) =>
  prisma.auditEntry.findMany({ where: { action }, orderBy: { id: 'asc' }, omit: { id: true } });
/** A minute on, with what was counted written down. */
async function nextMinute(): Promise<void> {
  clock.now = new Date(clock.now.getTime() + 61_000);
  await closeRepeats(registry);
}

describe('what writes nothing else is told all the same', () => {
  it('a sign-in and a failed one, with the account but no address', async () => {
    const email = 'mira.holm@people.example';
    await signIn(registry, { email, password: STRONG_PASSWORD });
    await signIn(registry, { email, password: 'wrong' });
    await signIn(registry, { email: 'nobody@people.example', password: 'wrong' });
    expect(await told('account.signIn')).toMatchObject([
      { actorId: tester.accountId, subjectId: tester.accountId },
    ]);
    expect(await told('account.signInFailed')).toMatchObject([
      { actorId: null, subjectId: tester.accountId, details: { why: 'wrong' } },
      { actorId: null, subjectId: 'none', details: { why: 'wrong' } },
    ]);
    expect(JSON.stringify([await told('account.signIn'), await told('account.signInFailed')])).not.toContain(
      '@',
    );
  });

  it('a refused write, though all that it began was undone', async () => {
    const refusal = await retractRun(registry, reviewer, {
      runId: run.runId,
      reason: 'It is not mine at all.',
    }).catch((error: unknown) => error);
    if (!(refusal instanceof NotAllowed)) throw new Error('it was not refused');
    await recordRefusal(registry, refusal);
    expect(await told('access.refused')).toMatchObject([
      {
        actorId: reviewer.accountId,
        subjectKind: 'act',
        subjectId: 'retractRun',
        details: { answer: 'Only its tester or a steward retracts a run.' },
      },
    ]);
  });

  it('a reading of what is private to another, once a minute, and none of one’s own', async () => {
    const { sha256 } = await prisma.evidenceFile.findFirstOrThrow();
    const read = async (by: typeof tester) => {
      await readRun(registry, by, run.runNumber);
      await evidenceFile(registry, by, sha256);
    };
    await read(tester);
    expect(await told('private.read')).toEqual([]);
    await read(reviewer);
    await read(reviewer);
    await nextMinute();
    await read(reviewer);
    const entry = { actorId: reviewer.accountId, subjectKind: 'run', subjectId: run.runId };
    expect(await told('private.read')).toMatchObject([entry, entry]);
  });

  it('a flood is one entry and a count, each minute, whoever is at it', async () => {
    await nextMinute();
    const before = await prisma.auditEntry.count();
    const refusal = (accountId: string | undefined, act: string) =>
      recordRefusal(registry, new NotAllowed('No.', true, { accountId, act }));
    await Promise.all(
      Array.from({ length: 200 }, (_, k) =>
        refusal(k % 2 === 0 ? undefined : tester.accountId, 'manageRoles'),
      ),
    );
    expect(await prisma.auditEntry.count()).toBe(before + 2);
    await nextMinute();
    const counted = (await told('access.refused')).slice(-2);
    expect(counted.map(({ details }) => details)).toMatchObject([{ more: 99 }, { more: 99 }]);
    await nextMinute();
    expect(await prisma.auditEntry.count()).toBe(before + 4);
    expect(await prisma.auditRepeat.count()).toBe(0);
  });
});

describe('the page of the log', () => {
  const read = (query = {}) => readAuditLog(registry, steward, query);

  it('names people and runs, and shows no identifiers', async () => {
    const { rows } = await read();
    expect(rows.map(({ subject }) => subject.words)).toContain(`run ${run.runNumber}`);
    expect(rows.find(({ act }) => act === 'Car added')).toMatchObject({
      actor: 'Mira Holm',
      actorSlug: 'mira-holm',
      subject: { words: 'Tarn Works Skerry 2025 long bed of Mira Holm' },
    });
    expect(rows.find(({ act }) => act === 'Account opened')).toMatchObject({
      details: 'role: tester; display name: Sol Berg',
      subject: { words: 'Sol Berg', href: '/testers/sol-berg' },
    });
    expect(JSON.stringify(rows.map(({ id: _, ...row }) => row))).not.toMatch(/[0-9a-f]{8}-[0-9a-f]{4}-/);
  });

  it('finds by person, run and act', async () => {
    const ofRun = await read({ run: `${run.runNumber}` });
    expect(ofRun.total).toBe(await prisma.auditEntry.count({ where: { subjectId: run.runId } }));
    expect(new Set(ofRun.rows.map(({ subject }) => subject.words))).toEqual(
      new Set([`run ${run.runNumber}`]),
    );
    const ofAda = await read({ person: 'ada' });
    expect(ofAda.people).toMatchObject([{ displayName: 'Ada Lund' }]);
    expect(ofAda.total).toBe(
      await prisma.auditEntry.count({
        where: { OR: [{ actorId: reviewer.accountId }, { subjectId: reviewer.accountId }] },
      }),
    );
    expect(ofAda.rows).toHaveLength(ofAda.total);
    const failed = await read({ person: 'mira-holm', action: 'account.signInFailed' });
    expect(failed.rows.map(({ act, actor }) => [act, actor])).toEqual([['Sign-in failed', 'the registry']]);
    // Of several, one is to be chosen; what nobody has finds nothing.
    expect(await read({ person: 'people.example' })).toMatchObject({ total: 0, people: { length: 3 } });
    for (const query of [
      { person: 'nobody' },
      { run: '99' },
      { run: '9'.repeat(40) },
      { run: 'x' },
      { person: '\0%' },
    ])
      expect((await read(query)).rows, JSON.stringify(query)).toEqual([]);
  });

  it('says how far the log is sealed', async () => {
    expect((await read()).seal).toEqual({ head: null, unsealed: await prisma.auditEntry.count() });
  });
});
