import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { runJobsNow } from '@/lib/registry/runJobs';
import { retractRun } from '@/lib/registry/runs/retractRun';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import {
  approved,
  loopOf,
  person,
  registryOn,
  submitted,
  type Vehicle,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);

let tester: Actor;
let other: Actor;
let reviewer: Actor;
let vehicle: Vehicle;
let loopId: string;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  other = await person(registry, 'Jonas Reet');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
});
afterAll(remove);

const formOf = (changes = {}) => ({
  carId: vehicle.carId,
  setupId: vehicle.baselineId,
  loopId,
  ...changes,
});

describe('from the form to the ranking', () => {
  it('keeps what was typed, freezes it as a revision, judges and normalises it', async () => {
    const run = await submitted(registry, tester, formOf());
    const revision = await prisma.runRevision.findFirstOrThrow({
      where: { runId: run.runId },
      include: { readings: true, conditions: true, findings: true, normalisations: true, evidence: true },
    });
    expect(run.revisionNumber).toBe(1);
    expect(revision.readings.find((reading) => reading.quantity === 'tripEnergy')?.enteredText).toBe('32.9');
    expect(revision.findings.length).toBeGreaterThanOrEqual(15);
    expect(revision.findings.filter((finding) => finding.outcome === 'fail')).toEqual([]);
    const normalisation = revision.normalisations[0];
    // 32.9 kWh over the loop's 107.5 km; the readings together pull the energy by less than a per cent.
    expect(normalisation?.measuredWhPerKm).toBeGreaterThan(303);
    expect(normalisation?.measuredWhPerKm).toBeLessThan(309);
    expect(normalisation?.isNormalised).toBe(true);
    expect(normalisation?.uRunRelative).toBeLessThan(0.05);
    expect(revision.evidence).toHaveLength(2);
  });

  it('approves, refits in the background and publishes an estimate with counts', async () => {
    for (const [day, setupId, energy] of [
      ['2026-05-15', vehicle.baselineId, '32.8'],
      ['2026-05-15', vehicle.lowId, '31.2'],
      ['2026-05-16', vehicle.baselineId, '33.1'],
      ['2026-05-16', vehicle.lowId, '31.4'],
      ['2026-05-17', vehicle.lowId, '31.1'],
      ['2026-05-17', vehicle.baselineId, '32.9'],
    ] as const) {
      await approved(
        registry,
        tester,
        reviewer,
        formOf({
          setupId,
          startedAtLocal: `${day}T${setupId === vehicle.lowId ? '11' : '09'}:00`,
          tripEnergy: energy,
          tripEfficiency: (66.8 / Number(energy)).toFixed(2),
        }),
      );
    }
    expect(await runJobsNow(registry)).toBeGreaterThan(0);
    const estimates = await prisma.estimate.findMany({ where: { fit: { isCurrent: true } } });
    expect(estimates.map((estimate) => [estimate.setupId, estimate.runs]).sort()).toEqual(
      [
        [vehicle.baselineId, 3],
        [vehicle.lowId, 3],
      ].sort(),
    );
    for (const estimate of estimates) {
      expect(estimate.cars).toBe(1);
      expect(estimate.testers).toBe(1);
      expect(estimate.loops).toBe(1);
      expect(estimate.days).toBe(3);
    }
    const contrast = await prisma.contrast.findFirstOrThrow({ where: { fit: { isCurrent: true } } });
    expect(contrast.kind).toBe('session');
    const baselineFirst = contrast.setupAId === vehicle.baselineId;
    // 31.2 against 32.9 kWh: about 5 % less, whatever the adjustment, since both shared their days.
    expect((contrast.differenceLog ?? 0) * (baselineFirst ? 1 : -1)).toBeGreaterThan(0.03);
    expect((contrast.differenceLog ?? 0) * (baselineFirst ? 1 : -1)).toBeLessThan(0.08);
  });

  it('tells the tester and logs every step', async () => {
    const notices = await prisma.notification.findMany({ where: { accountId: tester.accountId } });
    expect(notices).toHaveLength(6);
    const actions = await prisma.auditEntry.findMany({ distinct: ['action'], select: { action: true } });
    for (const action of [
      'run.startDraft',
      'run.submit',
      'review.claim',
      'review.approve',
      'run.addEvidence',
    ]) {
      expect(actions.map((entry) => entry.action)).toContain(action);
    }
  });
});

describe('nothing is half-written and nothing is taken twice', () => {
  it('one form posted twice makes one draft and one revision', async () => {
    const creationKey = 'one-press-two-posts';
    const form = completeForm(formOf({ startedAtLocal: '2026-06-01T09:00' }));
    const drafts = await Promise.all([
      startDraft(registry, tester, { creationKey, form }),
      startDraft(registry, tester, { creationKey, form }),
    ]);
    expect(drafts[0].runId).toBe(drafts[1].runId);
    const input = { runId: drafts[0].runId, draftVersion: drafts[0].draftVersion };
    const results = await Promise.allSettled([
      submitRun(registry, tester, input),
      submitRun(registry, tester, input),
    ]);
    expect(results.filter((result) => result.status === 'fulfilled').length).toBeGreaterThanOrEqual(1);
    expect(await prisma.runRevision.count({ where: { runId: drafts[0].runId } })).toBe(1);
    expect(await submitRun(registry, tester, input)).toMatchObject({ revisionNumber: 1 });
  });

  it('a stale save changes nothing and says so', async () => {
    const draft = await startDraft(registry, tester, {
      creationKey: 'two-windows',
      form: { notes: 'first' },
    });
    await saveDraft(registry, tester, { ...draft, form: { notes: 'second' } });
    await expect(saveDraft(registry, tester, { ...draft, form: { notes: 'third' } })).rejects.toThrow(
      Conflict,
    );
    const stored = await prisma.run.findUniqueOrThrow({ where: { id: draft.runId } });
    expect(stored.draft).toEqual({ notes: 'second' });
    const entries = await prisma.auditEntry.count({
      where: { subjectId: draft.runId, action: 'run.saveDraft' },
    });
    expect(entries).toBe(1);
  });

  it('an invalid submission keeps the draft and writes no revision', async () => {
    const form = completeForm(formOf({ tripDistance: '0' }));
    const draft = await startDraft(registry, tester, { creationKey: 'zero-distance', form });
    await expect(submitRun(registry, tester, draft)).rejects.toThrow(InvalidInput);
    expect(await prisma.runRevision.count({ where: { runId: draft.runId } })).toBe(0);
    const stored = await prisma.run.findUniqueOrThrow({ where: { id: draft.runId } });
    expect(stored.status).toBe('draft');
    expect(stored.draft).toEqual(form);
  });

  it('a class above the posted limit is refused beside its field', async () => {
    const form = completeForm(formOf({ cruiseClassKey: 'kmh-130', trueSpeed: '130', trueSpeedUnit: 'km/h' }));
    const draft = await startDraft(registry, tester, {
      creationKey: 'above-limit',
      form: { ...form, tripDuration: '50', tripMeanSpeed: '' },
    });
    await expect(submitRun(registry, tester, draft)).rejects.toMatchObject({
      issues: [{ path: 'cruiseClassKey' }],
    });
  });

  it('another’s draft, car or role is refused', async () => {
    const draft = await startDraft(registry, tester, {
      creationKey: 'mine-alone',
      form: completeForm(formOf()),
    });
    await expect(saveDraft(registry, other, { ...draft, form: {} })).rejects.toThrow(NotAllowed);
    await expect(submitRun(registry, other, draft)).rejects.toThrow(NotAllowed);
    const forged = await startDraft(registry, other, {
      creationKey: 'not-my-car',
      form: completeForm(formOf()),
    });
    await expect(submitRun(registry, other, forged)).rejects.toMatchObject({ issues: [{ path: 'carId' }] });
    await expect(claimRun(registry, other, { runId: draft.runId })).rejects.toThrow(NotAllowed);
    await expect(startDraft(registry, undefined, { creationKey: 'nobody-at-all' })).rejects.toThrow(
      NotAllowed,
    );
  });
});

describe('review', () => {
  it('has one open claim a run, held by the database', async () => {
    const second = await person(registry, 'Pelle Strand', 'reviewer');
    const run = await submitted(registry, tester, formOf({ startedAtLocal: '2026-06-02T09:00' }));
    const claims = await Promise.allSettled([
      claimRun(registry, reviewer, { runId: run.runId }),
      claimRun(registry, second, { runId: run.runId }),
    ]);
    expect(claims.filter((claim) => claim.status === 'fulfilled')).toHaveLength(1);
    expect(await prisma.reviewClaim.count({ where: { runId: run.runId, releasedAt: null } })).toBe(1);
  });

  it('refuses to approve a run that fails a rule, and rejection needs a reason tied to a rule', async () => {
    const run = await submitted(
      registry,
      tester,
      formOf({ startedAtLocal: '2026-06-03T09:00', closeFollowing: 'some' }),
    );
    await claimRun(registry, reviewer, { runId: run.runId });
    const decision = { runId: run.runId, revisionNumber: 1 };
    await expect(decideReview(registry, reviewer, { ...decision, kind: 'approve' })).rejects.toThrow(
      InvalidInput,
    );
    await expect(decideReview(registry, reviewer, { ...decision, kind: 'reject' })).rejects.toThrow(
      InvalidInput,
    );
    await expect(
      decideReview(registry, reviewer, {
        ...decision,
        kind: 'reject',
        reasons: [{ ruleId: 'no-such-rule', text: 'x' }],
      }),
    ).rejects.toThrow(InvalidInput);
    const failed = await prisma.finding.findFirstOrThrow({
      where: { outcome: 'fail', revision: { runId: run.runId } },
    });
    const reasons = [{ ruleId: failed.ruleId, text: 'Keep a safe gap and drive again.' }];
    await decideReview(registry, reviewer, { ...decision, kind: 'askChanges', reasons });
    const state = await prisma.run.findUniqueOrThrow({ where: { id: run.runId } });
    expect(state.status).toBe('changesAsked');
    const again = await submitRun(registry, tester, {
      runId: run.runId,
      draftVersion: state.draftVersion,
      form: completeForm(formOf({ startedAtLocal: '2026-06-03T09:00', closeFollowing: 'none' })),
    });
    expect(again.revisionNumber).toBe(2);
  });

  it('two decisions at once: one counts, the other hears that it is decided', async () => {
    const run = await submitted(registry, tester, formOf({ startedAtLocal: '2026-06-04T09:00' }));
    await claimRun(registry, reviewer, { runId: run.runId });
    const decision = { runId: run.runId, revisionNumber: 1, kind: 'approve' };
    const decisions = await Promise.allSettled([
      decideReview(registry, reviewer, decision),
      decideReview(registry, reviewer, decision),
    ]);
    expect(decisions.filter((result) => result.status === 'fulfilled')).toHaveLength(1);
    const lost = decisions.find((result) => result.status === 'rejected');
    expect(lost?.reason).toBeInstanceOf(Conflict);
    expect(await prisma.decision.count({ where: { revision: { runId: run.runId } } })).toBe(1);
  });

  it('nobody reviews own runs: refused by the use case and by the database', async () => {
    const own = await vehicleOf(registry, reviewer, 'Merle');
    const run = await submitted(registry, reviewer, {
      carId: own.carId,
      setupId: own.baselineId,
      loopId,
      startedAtLocal: '2026-06-05T09:00',
    });
    await expect(claimRun(registry, reviewer, { runId: run.runId })).rejects.toThrow(NotAllowed);
    const revision = await prisma.runRevision.findFirstOrThrow({ where: { runId: run.runId } });
    await expect(
      prisma.decision.create({
        data: {
          revisionId: revision.id,
          reviewerId: reviewer.accountId,
          kind: 'approve',
          decidedAt: new Date(),
        },
      }),
    ).rejects.toThrow(/nobody reviews their own run/);
  });
});

describe('the record', () => {
  it('keeps a retracted run readable and takes it out of the fit', async () => {
    const before = await prisma.fit.findFirstOrThrow({ where: { isCurrent: true } });
    const run = await prisma.run.findFirstOrThrow({ where: { status: 'approved', setupId: vehicle.lowId } });
    const reason = 'The trip meter was reset late.';
    await expect(retractRun(registry, other, { runId: run.id, reason })).rejects.toThrow(NotAllowed);
    await retractRun(registry, tester, { runId: run.id, reason });
    await expect(retractRun(registry, tester, { runId: run.id, reason })).rejects.toThrow(Conflict);
    await runJobsNow(registry);
    const after = await prisma.fit.findFirstOrThrow({ where: { isCurrent: true } });
    expect(after.id).not.toBe(before.id);
    const estimate = await prisma.estimate.findFirstOrThrow({
      where: { fitId: after.id, setupId: vehicle.lowId },
    });
    expect(estimate.runs).toBe(2);
    expect(await prisma.runRevision.count({ where: { runId: run.id } })).toBe(1);
  });

  it('cannot be altered or removed, not even by hand', async () => {
    await expect(prisma.auditEntry.deleteMany({})).rejects.toThrow(/append-only/);
    await expect(prisma.runRevision.updateMany({ data: { notes: 'changed' } })).rejects.toThrow(
      /append-only/,
    );
    await expect(prisma.reading.updateMany({ data: { value: 1 } })).rejects.toThrow(/append-only/);
  });
});
