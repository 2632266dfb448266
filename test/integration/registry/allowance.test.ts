import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { vouchFor } from '@/lib/registry/accounts/vouch';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { Conflict, NotAllowed, TooSoon } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import { loopOf, person, registryOn, submitted, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const HOUR_MS = 3_600_000;
let tester: Actor;
let reviewer: Actor;
let form: Record<string, string>;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  const { carId, baselineId } = await vehicleOf(registry, tester);
  form = { carId, setupId: baselineId, loopId: await loopOf(registry, tester) };
});

let made = 0;
function nextForm() {
  made += 1;
  const day = String(1 + (made % 28)).padStart(2, '0');
  return { ...form, startedAtLocal: `2026-0${1 + Math.floor(made / 28)}-${day}T09:30` };
}
const draftOf = () =>
  startDraft(registry, tester, { creationKey: crypto.randomUUID(), form: completeForm(nextForm()) });
const send = ({ runId, draftVersion }: { runId: string; draftVersion: number }) =>
  submitRun(registry, tester, { runId, draftVersion });

describe('the day’s allowance of submissions', () => {
  it('is said when it is reached, keeps the draft, grows with an approval and is over after a day', async () => {
    // two at the same moment count as two
    const first = await submitted(registry, tester, nextForm());
    await Promise.all([draftOf(), draftOf()].map(async (draft) => send(await draft)));
    clock.now = new Date(clock.now.getTime() + HOUR_MS);
    for (let i = 0; i < 9; i++) await send(await draftOf());
    const draft = await draftOf();
    const refused = await send(draft).catch((error: unknown) => error);
    expect(refused).toBeInstanceOf(TooSoon);
    expect((refused as TooSoon).waitS).toBe(23 * 3600);
    expect((refused as TooSoon).issues[0]).toMatchObject({
      what: expect.stringContaining('12 runs within a day'),
      fix: 'The draft is kept. Send it after 12:00 UTC.',
    });
    expect(await prisma.run.findUniqueOrThrow({ where: { id: draft.runId } })).toMatchObject({
      status: 'draft',
      draftVersion: draft.draftVersion,
    });

    await claimRun(registry, reviewer, { runId: first.runId });
    await decideReview(registry, reviewer, { runId: first.runId, revisionNumber: 1, kind: 'approve' });
    await send(draft);
    const another = await draftOf();
    await expect(send(another)).rejects.toThrow(TooSoon);
    clock.now = new Date(clock.now.getTime() + 23 * HOUR_MS);
    await send(another);
  }, 120_000);

  it('counts an import as one, and what a reviewer asked for not at all', async () => {
    clock.now = new Date(clock.now.getTime() + 30 * HOUR_MS);
    const batch = await prisma.importBatch.create({
      data: {
        byId: tester.accountId,
        fileName: 'runs.csv',
        mode: 'partial',
        rowsRead: 14,
        rowsMade: 0,
        rowsRefused: 0,
        report: {},
      },
    });
    const sent = [];
    for (let i = 0; i < 15; i++) {
      const draft = await draftOf();
      await prisma.run.update({ where: { id: draft.runId }, data: { importBatchId: batch.id } });
      sent.push({ ...(await send(draft)), runId: draft.runId });
    }
    for (let i = 0; i < 12; i++) await send(await draftOf());
    await expect(send(await draftOf())).rejects.toThrow(TooSoon);
    const [back] = sent;
    await claimRun(registry, reviewer, { runId: back?.runId });
    await decideReview(registry, reviewer, {
      runId: back?.runId,
      revisionNumber: 1,
      kind: 'askChanges',
      reasons: ['start', 'finish'].map((place) => ({
        ruleId: `${place}-display-photo`,
        text: 'Add the photo.',
      })),
    });
    const { draftVersion } = await prisma.run.findUniqueOrThrow({ where: { id: back?.runId ?? '' } });
    expect((await send({ runId: back?.runId ?? '', draftVersion })).revisionNumber).toBe(2);
  }, 120_000);
});

describe('vouching for an account', () => {
  it('is a steward’s, never for oneself, once, and asks for new fits of what they drove', async () => {
    const steward = await person(registry, 'Noor Vale', 'steward');
    const { accountId } = tester;
    await prisma.account.update({
      where: { id: accountId },
      data: { vouchedAt: null, emailVerifiedAt: null },
    });
    await expect(vouchFor(registry, reviewer, { accountId })).rejects.toThrow(NotAllowed);
    await expect(vouchFor(registry, steward, { accountId: steward.accountId })).rejects.toThrow(Conflict);
    await prisma.job.deleteMany({});
    await vouchFor(registry, steward, { accountId });
    await vouchFor(registry, steward, { accountId });
    expect(await prisma.account.findUniqueOrThrow({ where: { id: accountId } })).toMatchObject({
      vouchedById: steward.accountId,
      vouchedAt: clock.now,
    });
    expect(await prisma.auditEntry.count({ where: { action: 'account.vouch', subjectId: accountId } })).toBe(
      1,
    );
    expect(await prisma.job.findMany({ where: { kind: 'refit' } })).toMatchObject([{ key: 'record/mph-70' }]);
  });
});
