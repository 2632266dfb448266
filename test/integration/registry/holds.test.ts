import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkCounted } from '@/lib/registry/counted/checkCounted';
import { fillCounted } from '@/lib/registry/counted/countRun';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { holdRun, liftHold } from '@/lib/registry/review/holdRun';
import { addEvidence } from '@/lib/registry/runs/addEvidence';
import { readRun } from '@/lib/registry/runs/run';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { Conflict, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import {
  approve,
  approved,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  someOdometer,
  vehicleOf,
} from '@/test/helpers/smallRegistry';
import { dashboardPhoto } from '@/test/lib/files/dashboards';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const REASON = 'The photos are looked at once more.';
let tester: Actor;
let steward: Actor;
let reviewer: Actor;
let loopId: string;
let run: SubmittedRunRef;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  steward = await person(registry, 'Jon Sand', 'steward');
  loopId = await loopOf(registry, tester);
  const { carId, baselineId } = await vehicleOf(registry, tester);
  const startedAtLocal = '2026-05-10T09:00';
  run = await approved(registry, tester, reviewer, { carId, setupId: baselineId, loopId, startedAtLocal });
}, 60_000);

const counted = (runId: string) => prisma.countedRun.count({ where: { runId } });
const refits = () => prisma.job.count({ where: { kind: 'refit', state: 'queued' } });
const differences = async () => (await checkCounted(registry)).flatMap((check) => check.differences);

describe('a held run', () => {
  it('does not count, says why, and counts as before when the hold is lifted', async () => {
    const before = await prisma.countedRun.findMany({ where: { runId: run.runId } });
    await prisma.job.deleteMany({});
    await holdRun(registry, steward, { runId: run.runId, reason: REASON });
    expect(await counted(run.runId)).toBe(0);
    expect(await refits()).toBe(1);
    expect(await differences()).toEqual([]);
    // nothing that fills what is missing brings it back
    await fillCounted(prisma, RECORD, before[0]?.methodVersion ?? '');
    expect(await counted(run.runId)).toBe(0);
    const view = await readRun(registry, undefined, run.runNumber);
    expect(view).toMatchObject({
      status: 'approved',
      hold: { reason: REASON, by: { displayName: 'Jon Sand' } },
    });
    await expect(holdRun(registry, steward, { runId: run.runId, reason: REASON })).rejects.toThrow(Conflict);
    await liftHold(registry, steward, { runId: run.runId, reason: 'They are of this drive.' });
    expect(await prisma.countedRun.findMany({ where: { runId: run.runId } })).toEqual(before);
    expect((await readRun(registry, undefined, run.runNumber))?.hold).toBeNull();
    await expect(liftHold(registry, steward, { runId: run.runId, reason: REASON })).rejects.toThrow(Conflict);
    const told = await prisma.notification.findMany({
      where: { runId: run.runId, kind: { startsWith: 'run.' } },
    });
    expect(told.map(({ kind, accountId }) => [kind, accountId])).toEqual([
      ['run.hold', tester.accountId],
      ['run.liftHold', tester.accountId],
    ]);
    const acts = await prisma.auditEntry.findMany({
      where: { subjectId: run.runId, action: { contains: 'old' } },
    });
    expect(acts.map(({ action }) => action)).toEqual(['run.hold', 'run.liftHold']);
  });

  it('is held by stewards alone, and by nobody on their own run', async () => {
    for (const actor of [tester, reviewer, undefined])
      await expect(holdRun(registry, actor, { runId: run.runId, reason: REASON })).rejects.toThrow(
        NotAllowed,
      );
  });

  it('keeps what was held: a row is lifted once and never altered', async () => {
    const { id } = await prisma.hold.findFirstOrThrow({ where: { runId: run.runId } });
    const later = { liftReason: 'Something else altogether.' };
    await expect(prisma.hold.update({ where: { id }, data: later })).rejects.toThrow('append-only');
    await expect(prisma.hold.delete({ where: { id } })).rejects.toThrow('append-only');
  });
});

describe('a run with photos of another tester’s run', () => {
  async function draftOf(actor: Actor, name: string, photos: readonly Uint8Array[]) {
    const { carId, baselineId } = await vehicleOf(registry, actor, name);
    const form = completeForm({
      carId,
      setupId: baselineId,
      loopId,
      startedAtLocal: '2026-06-01T09:30',
      odometerStart: someOdometer(),
    });
    const draft = await startDraft(registry, actor, { creationKey: `draft of ${name}`, form });
    for (const [place, kind] of ['startDisplay', 'finishDisplay'].entries()) {
      clock.now = new Date(clock.now.getTime() + 1000);
      await addEvidence(registry, actor, {
        runId: draft.runId,
        kind,
        bytes: photos[place] ?? new Uint8Array(),
      });
    }
    return draft;
  }
  const send = (actor: Actor, { runId, draftVersion }: { runId: string; draftVersion: number }) =>
    submitRun(registry, actor, { runId, draftVersion });
  const decide = async (runId: string, kind: 'approve' | 'askChanges', revisionNumber = 1) => {
    if (kind === 'approve') return approve(registry, reviewer, { runId, revisionNumber });
    await claimRun(registry, reviewer, { runId });
    const reasons = [{ ruleId: 'same-picture', text: 'Send your own.' }];
    await decideReview(registry, reviewer, { runId, revisionNumber, kind, reasons });
  };

  it('is held as it is sent in, and let go once it has photos of its own', async () => {
    const photos = await Promise.all([dashboardPhoto(1, 1), dashboardPhoto(1, 2)]);
    const first = await draftOf(tester, 'Gull', photos);
    await send(tester, first);
    const thief = await person(registry, 'Jo Kite');
    const copy = await draftOf(thief, 'Tern', photos);
    const { runNumber } = await send(thief, copy);
    const hold = (await readRun(registry, steward, runNumber))?.hold;
    expect(hold).toMatchObject({ by: null, reason: expect.stringContaining('of another tester') });
    expect(await prisma.hold.count({ where: { runId: first.runId } })).toBe(0);

    await decide(copy.runId, 'askChanges');
    for (const { id } of await prisma.evidenceFile.findMany({ where: { runId: copy.runId } }))
      await prisma.evidenceFile.update({ where: { id }, data: { removedAt: clock.now } });
    for (const [place, kind] of (['startDisplay', 'finishDisplay'] as const).entries())
      await addEvidence(registry, thief, {
        runId: copy.runId,
        kind,
        bytes: await dashboardPhoto(7, place + 1),
      });
    const { draftVersion } = await prisma.run.findUniqueOrThrow({ where: { id: copy.runId } });
    await send(thief, { runId: copy.runId, draftVersion });
    expect((await readRun(registry, steward, runNumber))?.hold).toBeNull();
    await decide(copy.runId, 'approve', 2);
    expect(await counted(copy.runId)).toBeGreaterThan(0);
  });

  it('is held at its approval where nothing was known of the photos before, and not again once lifted', async () => {
    const finch = await person(registry, 'Jo Finch');
    const photos = await Promise.all([dashboardPhoto(3, 1), dashboardPhoto(3, 2)]);
    const copy = await draftOf(finch, 'Plover', photos);
    await send(finch, copy);
    expect(await prisma.hold.count({ where: { runId: copy.runId } })).toBe(0);
    // somebody else's photo turns out to look like it: one that was there before, whose hash is made only now
    const [own] = await prisma.evidenceFile.findMany({
      where: { runId: copy.runId },
      orderBy: { id: 'asc' },
    });
    const [other] = await prisma.evidenceFile.findMany({
      where: { runId: run.runId },
      orderBy: { id: 'asc' },
    });
    const { pictureHash, pictureBands } = own ?? {};
    await prisma.evidenceFile.update({
      where: { id: other?.id ?? '' },
      data: { pictureHash: pictureHash ?? null, pictureBands: pictureBands ?? [] },
    });
    await decide(copy.runId, 'approve');
    expect(await counted(copy.runId)).toBe(0);
    await liftHold(registry, steward, { runId: copy.runId, reason: 'Two displays of one model.' });
    expect(await counted(copy.runId)).toBeGreaterThan(0);
  });
});
