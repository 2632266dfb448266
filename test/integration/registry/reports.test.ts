import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { suspendAccount } from '@/lib/registry/accounts/suspend';
import { readTester } from '@/lib/registry/accounts/tester';
import { readLoop } from '@/lib/registry/loops/loop';
import { eraseAccount } from '@/lib/registry/privacy/eraseAccount';
import { readReports, settleReport } from '@/lib/registry/reports/reports';
import { sendReport } from '@/lib/registry/reports/sendReport';
import { readManyRuns } from '@/lib/registry/review/manyRuns';
import { readRun } from '@/lib/registry/runs/run';
import { Conflict, InvalidInput, NotAllowed, NotFound, TooSoon } from '@/lib/run/errors';
import { REPORTS_A_DAY } from '@/lib/run/reports';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { letterBox } from '@/test/helpers/letterBox';
import {
  approved,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  signedInAs,
  submitted,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const WORDS = 'The odometer of the finish is lower than that of the start.';
const ANSWER = 'The photo shows it the other way round; it was corrected.';
let tester: Actor;
let reader: Actor;
let reviewer: Actor;
let steward: Actor;
let run: SubmittedRunRef;
let waiting: SubmittedRunRef;
const slugs: Record<string, string> = {};

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  reader = await person(registry, 'Kai Lund', 'reader');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  steward = await person(registry, 'Jon Sand', 'steward');
  const { carId, baselineId, modelId } = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  const form = { carId, setupId: baselineId, loopId };
  run = await approved(registry, tester, reviewer, { ...form, startedAtLocal: '2026-05-10T09:00' });
  waiting = await submitted(registry, tester, { ...form, startedAtLocal: '2026-05-11T09:00' });
  slugs.loop = (await prisma.loop.findUniqueOrThrow({ where: { id: loopId } })).slug;
  slugs.model = (await prisma.vehicleModel.findUniqueOrThrow({ where: { id: modelId } })).slug;
  slugs.setup = (await prisma.setup.findUniqueOrThrow({ where: { id: baselineId } })).slug;
  slugs.tester = (await prisma.account.findUniqueOrThrow({ where: { id: tester.accountId } })).slug;
}, 60_000);

const send = (by: Actor | undefined, changes: object = {}) =>
  sendReport(registry, by, {
    kind: 'run',
    key: String(run.runNumber),
    reason: 'value',
    words: WORDS,
    ...changes,
  });
const open = async (by: Actor = reviewer) => (await readReports(registry, by, { isOpen: true })).rows;

describe('a report', () => {
  it('is read by reviewers alone, settled once, and its sender is told', async () => {
    await send(reader);
    await expect(send(reader)).rejects.toThrow(Conflict);
    expect(await open()).toMatchObject([
      {
        about: { words: `run ${run.runNumber}`, href: `/runs/${run.runNumber}` },
        reason: 'A value looks wrong',
        words: WORDS,
        by: { displayName: 'Kai Lund' },
        maySettle: true,
      },
    ]);
    for (const actor of [tester, reader, undefined])
      await expect(readReports(registry, actor, { isOpen: true })).rejects.toThrow(NotAllowed);
    const published = [
      await readRun(registry, undefined, run.runNumber),
      await readRun(registry, tester, run.runNumber),
      await readTester(registry, slugs.tester ?? ''),
      await readLoop(registry, slugs.loop ?? ''),
    ];
    expect(
      JSON.stringify(published, (_, value) => (typeof value === 'bigint' ? String(value) : value)),
    ).not.toContain(WORDS);

    const reportId = (await open())[0]?.id;
    const decision = { reportId, decision: 'acted', answer: ANSWER };
    await expect(settleReport(registry, reader, decision)).rejects.toThrow(NotAllowed);
    await expect(settleReport(registry, reviewer, { ...decision, answer: '' })).rejects.toThrow(InvalidInput);
    await settleReport(registry, reviewer, decision);
    await expect(settleReport(registry, steward, decision)).rejects.toThrow(Conflict);
    expect(await open()).toEqual([]);
    const { rows } = await readReports(registry, reviewer, { isOpen: false });
    expect(rows).toMatchObject([{ settled: { by: 'Ada Quill', decision: 'Acted on', answer: ANSWER } }]);
    expect(await prisma.notification.findMany({ where: { kind: 'report.settle' } })).toMatchObject([
      { accountId: reader.accountId, text: `Your report on run ${run.runNumber}: acted on. ${ANSWER}` },
    ]);
    const acts = await prisma.auditEntry.findMany({
      where: { action: { startsWith: 'report.' } },
      orderBy: { id: 'asc' },
    });
    expect(acts.map(({ action, subjectId }) => [action, subjectId])).toEqual([
      ['report.send', run.runId],
      ['report.settle', run.runId],
    ]);
    // the log says that, not what
    expect(JSON.stringify(acts.map(({ details, personal }) => [details, personal]))).not.toContain(WORDS);
    // settled, the same may be reported again
    await send(reader);
  });

  it('is of what is public: of each kind, and of no run that is not', async () => {
    for (const kind of ['loop', 'model', 'setup', 'tester']) await send(reader, { kind, key: slugs[kind] });
    const about = (await open()).map((row) => row.about?.href ?? '').sort();
    expect(about).toEqual([
      `/loops/${slugs.loop}`,
      `/models/${slugs.model}`,
      `/runs/${run.runNumber}`,
      `/setups/${slugs.setup}`,
      `/testers/${slugs.tester}`,
    ]);
    for (const key of [String(waiting.runNumber), '0', '99999', 'x', '1e3'])
      await expect(send(reader, { key })).rejects.toThrow(NotFound);
    await expect(send(reader, { kind: 'loop', key: 'no-such-loop' })).rejects.toThrow(NotFound);
    await expect(send(reader, { kind: 'loop', key: slugs.loop, reason: 'dislike' })).rejects.toThrow(
      InvalidInput,
    );
  });

  it('is not settled by who sent it, nor by whom it is about', async () => {
    await send(reviewer, { kind: 'tester', key: slugs.tester });
    const [own] = (await open()).filter(({ by }) => by.displayName === 'Ada Quill');
    expect(own?.maySettle).toBe(false);
    const decision = { reportId: own?.id, decision: 'unfounded', answer: ANSWER };
    await expect(settleReport(registry, reviewer, decision)).rejects.toThrow(NotAllowed);
    // somebody who reviews now and drove it then
    await prisma.account.update({ where: { id: tester.accountId }, data: { role: 'reviewer' } });
    await expect(settleReport(registry, { ...tester, role: 'reviewer' }, decision)).rejects.toThrow(Conflict);
    await settleReport(registry, steward, decision);
  });

  it('leads a steward to the runs it is about', async () => {
    const { rows } = await readManyRuns(registry, steward, { act: 'hold', onlyReported: true });
    expect(rows.map(({ number }) => number)).toEqual([run.runNumber]);
  });

  it('is sent by those with an account that is not suspended, and not without end', async () => {
    await expect(send(undefined)).rejects.toThrow(NotAllowed);
    const suspended = await person(registry, 'Nils Aas');
    const suspension = { accountId: suspended.accountId, reason: 'Reports without a reason, by the dozen.' };
    await suspendAccount(registry, letterBox().mail, steward, suspension);
    await expect(send(await signedInAs(registry, suspended.accountId))).rejects.toThrow(NotAllowed);
    const eager = await person(registry, 'Ulla Berg');
    const byId = eager.accountId;
    await prisma.publicReport.createMany({
      data: Array.from({ length: REPORTS_A_DAY }, () => ({
        world: 'record',
        kind: 'run',
        subjectId: crypto.randomUUID(),
        byId,
        reason: 'other',
        words: WORDS,
        reportedAt: clock.now,
      })),
    });
    await expect(send(eager)).rejects.toThrow(TooSoon);
    clock.now = new Date(clock.now.getTime() + 24 * 60 * 60 * 1000);
    await send(eager);
    const demo = await person({ ...registry, world: 'demo' }, 'Pia Fjell');
    await expect(send({ ...demo, world: 'demo' })).rejects.toThrow(NotFound);
  });

  it('keeps nothing of what its sender wrote once they are erased', async () => {
    await eraseAccount(registry, await signedInAs(registry, reader.accountId), { isConfirmed: true });
    const rows = await prisma.publicReport.findMany({ where: { byId: reader.accountId } });
    expect(rows.length).toBeGreaterThan(0);
    expect(new Set(rows.map(({ words }) => words))).toEqual(new Set(['erased']));
  });
});
