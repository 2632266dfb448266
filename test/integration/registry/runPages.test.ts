import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readFigure } from '@/app/figures/publicFigures';
import { figureCsv } from '@/app/ui/figures/figureCsv';
import { normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { normaliseRun } from '@/lib/physics/normalise';
import { refitPooled } from '@/lib/registry/rankings/refitPooled';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { readQueue } from '@/lib/registry/review/queue';
import { nextReview, readReview } from '@/lib/registry/review/review';
import { runJobsNow } from '@/lib/registry/runJobs';
import { retractRun } from '@/lib/registry/runs/retractRun';
import { readRun } from '@/lib/registry/runs/run';
import { readRunCase } from '@/lib/registry/runs/runCase';
import { draftOfRun } from '@/lib/registry/runs/runDraft';
import { readRunList } from '@/lib/registry/runs/runList';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { readSetup } from '@/lib/registry/setups/setup';
import { NotAllowed, NotFound } from '@/lib/run/errors';
import { runFormSchema } from '@/lib/run/parseRunForm';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import {
  approved,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  submitted,
  type Vehicle,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);

let tester: Actor;
let stranger: Actor;
let reviewer: Actor;
let colleague: Actor;
let vehicle: Vehicle;
let loopId: string;
let published: SubmittedRunRef;
let waiting: SubmittedRunRef;

const formOf = (changes = {}) => ({ carId: vehicle.carId, setupId: vehicle.baselineId, loopId, ...changes });

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  stranger = await person(registry, 'Jonas Reet');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  colleague = await person(registry, 'Tove Arn', 'reviewer');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
  for (const [day, energy] of [
    ['2026-05-15', '32.8'],
    ['2026-05-16', '33.1'],
    ['2026-05-17', '32.9'],
  ] as const) {
    published = await approved(
      registry,
      tester,
      reviewer,
      formOf({
        startedAtLocal: `${day}T09:00`,
        tripEnergy: energy,
        tripEfficiency: (66.8 / Number(energy)).toFixed(2),
      }),
    );
  }
  await runJobsNow(registry);
  clock.now = new Date('2026-11-02T12:00:00Z');
  waiting = await submitted(registry, tester, formOf({ startedAtLocal: '2026-05-20T09:00' }));
  clock.now = new Date('2026-11-04T18:00:00Z');
});
afterAll(remove);

describe('who sees a run', () => {
  it('is anyone once it is approved, and nobody but its tester and reviewers before', async () => {
    for (const actor of [undefined, stranger, tester, reviewer]) {
      expect((await readRun(registry, actor, published.runNumber))?.isPublic).toBe(true);
    }
    expect(await readRun(registry, undefined, waiting.runNumber)).toBeUndefined();
    expect(await readRun(registry, stranger, waiting.runNumber)).toBeUndefined();
    expect(await readRunCase(registry, stranger, waiting.runNumber)).toBeUndefined();
    expect((await readRun(registry, tester, waiting.runNumber))?.isPublic).toBe(false);
    expect((await readRun(registry, reviewer, waiting.runNumber))?.status).toBe('submitted');
    expect(await readRun(registry, reviewer, 999_999)).toBeUndefined();
  });

  it('leads only its own tester from a draft to the form', async () => {
    const draft = await startDraft(registry, tester, { creationKey: 'only-begun', form: {} });
    const run = await prisma.run.findUniqueOrThrow({ where: { id: draft.runId } });
    expect(await draftOfRun(registry, tester, run.number)).toBe(draft.runId);
    for (const actor of [undefined, stranger, reviewer])
      expect(await draftOfRun(registry, actor, run.number)).toBeUndefined();
    expect(await readRun(registry, tester, run.number)).toBeUndefined();
  });

  it('offers each only what they may do', async () => {
    const allowed = async (actor: Actor | undefined, number: number) =>
      Object.entries((await readRun(registry, actor, number))?.allowed ?? {})
        .filter(([, may]) => may)
        .map(([what]) => what);
    expect(await allowed(tester, waiting.runNumber)).toEqual(['withdraw', 'goOn']);
    expect(await allowed(reviewer, waiting.runNumber)).toEqual(['review']);
    expect(await allowed(tester, published.runNumber)).toEqual(['retract', 'correct', 'goOn']);
    expect(await allowed(stranger, published.runNumber)).toEqual([]);
  });
});

describe('the page of a run', () => {
  it('shows the stored number, and the download gives it back through the engine', async () => {
    const view = await readRun(registry, undefined, published.runNumber);
    const shown = view?.result?.normalisation;
    if (shown?.outcome !== 'normalised') throw new Error('the run is within reach');
    const { name: _name, ...input } = (await readRunCase(registry, undefined, published.runNumber)) as {
      name: string;
    };
    const again = normaliseRun(normalisationCaseSchema.parse(input));
    if (again.outcome !== 'normalised') throw new Error('the case is within reach');
    expect(again.normalisedWhPerKm).toBeCloseTo(shown.normalisedWhPerKm, 9);
    expect(again.uWhPerKm).toBeCloseTo(shown.uWhPerKm, 9);
    const sum = shown.steps.reduce((total, step) => total + step.deltaWhPerKm, 0);
    expect(shown.measuredWhPerKm + sum).toBeCloseTo(shown.normalisedWhPerKm, 9);
  });

  it('simulates only when asked, with the same digits each time', async () => {
    expect((await readRun(registry, undefined, published.runNumber))?.simulation).toBeNull();
    const one = await readRun(registry, undefined, published.runNumber, { withSimulation: true });
    const two = await readRun(registry, undefined, published.runNumber, { withSimulation: true });
    expect(one?.simulation?.draws).toBe(10_000);
    expect(two?.simulation).toEqual(one?.simulation);
  });

  it('places it among the others without counting itself', async () => {
    const read = async () => (await readRun(registry, undefined, published.runNumber))?.standing;
    const standing = await read();
    if (standing === 'due') throw new Error('the fit says nothing of single runs');
    expect(standing?.ofSetup.shown.map((run) => run.number)).not.toContain(published.runNumber);
    expect(standing?.ofSetup.count).toBe(2);
    expect(standing).toMatchObject({ cars: 1, sessions: 2, ofModel: { count: 0, shown: [] } });
  });

  it('tells the whole trail', async () => {
    const view = await readRun(registry, undefined, published.runNumber);
    expect(view?.steps.map((step) => step.state)).toEqual(['submitted', 'claimed', 'approved']);
    expect(view?.audit.rows.map((step) => step.what)).toEqual(
      expect.arrayContaining(['Draft begun', 'Submitted', 'Taken for review', 'Approved']),
    );
  });
});

describe('the list', () => {
  it('has public runs only, and counts what a filter leaves', async () => {
    const all = await readRunList(registry, {});
    expect(all.total).toBe(3);
    expect(all.rows.map((run) => run.number)).not.toContain(waiting.runNumber);
    expect(all.rows.map((run) => run.localDate)).toEqual(['2026-05-17', '2026-05-16', '2026-05-15']);
    expect((await readRunList(registry, { classKey: 'kmh-80' })).total).toBe(0);
    // A state that is not public cannot be asked for.
    expect((await readRunList(registry, { state: 'submitted' })).total).toBe(3);
  });
});

describe('the queue and a review', () => {
  it('is for reviewers', async () => {
    await expect(readQueue(registry, tester, {})).rejects.toBeInstanceOf(NotAllowed);
    await expect(readReview(registry, tester, waiting.runNumber)).rejects.toBeInstanceOf(NotAllowed);
    await expect(readReview(registry, reviewer, 999_999)).rejects.toBeInstanceOf(NotFound);
  });

  it('says how long a run has waited and who has it', async () => {
    const [row] = (await readQueue(registry, reviewer, {})).rows;
    expect(row).toMatchObject({ number: waiting.runNumber, claim: null, isReviewable: true });
    expect(row?.ageHours).toBeCloseTo(54, 6);
    await claimRun(registry, reviewer, { runId: waiting.runId });
    expect((await readQueue(registry, reviewer, { claim: 'mine' })).total).toBe(1);
    expect((await readQueue(registry, colleague, { claim: 'free' })).total).toBe(0);
    expect((await readReview(registry, reviewer, waiting.runNumber)).review.kind).toBe('mine');
    expect((await readReview(registry, colleague, waiting.runNumber)).review).toMatchObject({
      kind: 'taken',
      by: 'Ada Quill',
      mayRelease: false,
    });
  });

  it('shows a reviewer their own run without letting them decide, and never leads them to it', async () => {
    const own = await vehicleOf(registry, colleague, 'Dunlin');
    const run = await submitted(registry, colleague, {
      carId: own.carId,
      setupId: own.baselineId,
      loopId,
      startedAtLocal: '2026-05-21T09:00',
    });
    expect((await readReview(registry, colleague, run.runNumber)).review.kind).toBe('own');
    const row = (await readQueue(registry, colleague, {})).rows.find(
      (candidate) => candidate.number === run.runNumber,
    );
    expect(row?.isReviewable).toBe(false);
    expect(await nextReview(registry, colleague, waiting.runId)).toBeUndefined();
    expect(await nextReview(registry, reviewer, waiting.runId)).toBe(run.runNumber);
  });

  it('names what a resubmission changed', async () => {
    await decideReview(registry, reviewer, {
      runId: waiting.runId,
      revisionNumber: 1,
      kind: 'askChanges',
      reasons: [{ ruleId: 'road-load-scale', text: 'Read the energy again.' }],
    });
    const state = await prisma.run.findUniqueOrThrow({ where: { id: waiting.runId } });
    await submitRun(registry, tester, {
      runId: waiting.runId,
      draftVersion: state.draftVersion,
      form: { ...runFormSchema.parse(state.draft), tripEnergy: '33.0', airTemperature: '19' },
    });
    const view = await readReview(registry, reviewer, waiting.runNumber);
    expect(view.run.revisionNumber).toBe(2);
    // What is read from the photo stays hidden until the reviewer has read it too.
    expect(view.changes?.entries).toEqual([
      { key: 'airTemperature', label: 'Air temperature', before: '18 °C', after: '19 °C' },
    ]);
    expect(view.changes?.photosTakenAway).toBe(0);
    expect(view.run.revisions[0]?.decisions[0]?.reasons[0]?.text).toBe('Read the energy again.');
  });
});

describe('the figures of a setup as files', () => {
  it('say what the page says, and a name makes no formula in them', async () => {
    await runJobsNow(registry);
    const { slug } = await prisma.setup.findUniqueOrThrow({ where: { id: vehicle.baselineId } });
    const asked = { id: tester.accountId };
    await prisma.account.update({ where: asked, data: { displayName: '=1+1' } });
    for (const kind of ['setup-runs', 'setup-spread']) {
      const figure = await readFigure(registry, kind, slug, {});
      const csv = figureCsv(figure?.table ?? { caption: '', columns: [], rows: [] });
      const lines = csv.trimEnd().split('\r\n');
      expect(lines.length - 1).toBe(figure?.table.rows.length);
      expect(figure?.table.rows.length).toBeGreaterThan(0);
      // OWASP, CSV Injection: an apostrophe before what a spreadsheet program would compute
      expect(csv).toContain("'=1+1");
      expect(csv).not.toMatch(/(^|[,"\n])[=+@]/);
    }
    await prisma.account.update({ where: asked, data: { displayName: 'Mira Holm' } });
  });
});

describe('a fit of an earlier release, which says nothing of single runs', () => {
  const setupPage = async () => {
    const { slug } = await prisma.setup.findUniqueOrThrow({ where: { id: vehicle.baselineId } });
    return readSetup(registry, slug);
  };

  it('shows as such, and is made anew by the daily job', async () => {
    await runJobsNow(registry);
    const before = [
      (await readRun(registry, undefined, published.runNumber))?.standing,
      (await setupPage())?.spread,
    ];
    for (const one of before) expect(one).toBeInstanceOf(Object);
    for (const table of ['FitRun', 'FitSetup', 'FitModel'])
      await prisma.$executeRawUnsafe(`DELETE FROM "${table}"`);
    expect((await readRun(registry, undefined, published.runNumber))?.standing).toBe('due');
    expect((await readReview(registry, reviewer, waiting.runNumber)).run.standing).toBe('due');
    expect((await setupPage())?.spread).toBe('due');
    expect(await refitPooled(registry)).toBeGreaterThan(0);
    await runJobsNow(registry);
    const after = [
      (await readRun(registry, undefined, published.runNumber))?.standing,
      (await setupPage())?.spread,
    ];
    expect(after).toEqual(before);
    expect(await prisma.fitModel.count()).toBe(1);
  });

  it('is as good as none where what it kept cannot be read', async () => {
    await prisma.$executeRaw`UPDATE "FitSetup" SET "standing" = '[]', "spread" = '{"cars": 7}'`;
    expect((await readRun(registry, undefined, published.runNumber))?.standing).toBe('due');
    expect((await setupPage())?.spread).toBe('due');
    await prisma.$executeRaw`UPDATE "FitModel" SET "effects" = '{"beta": "x"}', "standing" = '7'`;
    expect((await readReview(registry, reviewer, waiting.runNumber)).run.standing).toBe('due');
  });
});

describe('a retracted run', () => {
  it('stays readable with its reason and leaves the others’ comparison', async () => {
    const reason = 'The tyres were those of another setup.';
    await retractRun(registry, tester, { runId: published.runId, reason });
    const view = await readRun(registry, undefined, published.runNumber);
    expect(view?.retraction?.reason).toBe(reason);
    expect(view?.steps.at(-1)?.state).toBe('retracted');
    await runJobsNow(registry);
    const waitingView = await readRun(registry, tester, waiting.runNumber);
    expect(waitingView?.standing).toBeInstanceOf(Object);
    expect(JSON.stringify(waitingView?.standing)).not.toContain(`"number":${published.runNumber},`);
  });
});
