import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { readSnapshot } from '@/lib/reduction/stored';
import { addCalibration } from '@/lib/registry/cars/calibrations';
import { correctCar } from '@/lib/registry/cars/correctCar';
import { decideCorrection, withdrawCorrection } from '@/lib/registry/corrections/decideCorrection';
import type { Proposed } from '@/lib/registry/corrections/propose';
import { checkCounted } from '@/lib/registry/counted/checkCounted';
import { correctLoop } from '@/lib/registry/loops/correctLoop';
import { methodInEffect } from '@/lib/registry/method/methodInEffect';
import { correctModel } from '@/lib/registry/models/correctModel';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { runJobsNow } from '@/lib/registry/runJobs';
import { correctRun } from '@/lib/registry/runs/correctRun';
import { rebuildInputs } from '@/lib/registry/runs/rebuildInputs';
import { retractRun, withdrawRun } from '@/lib/registry/runs/retractRun';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { Conflict, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { insertStudy } from '@/lib/store/studies';
import { insertStudyRuns } from '@/lib/store/studyRuns';
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
import { planOf } from '../../lib/study/plans';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);

const WHY = 'The registration papers say another mass than was typed.';
const CHECKED = 'The papers were shown and agree.';
const KNOWN = { placardFrontPa: 290_000, placardRearPa: 290_000 };

let tester: Actor;
let other: Actor;
let reviewer: Actor;
let second: Actor;
let vehicle: Vehicle;
let loopId: string;
let names = 0;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  other = await person(registry, 'Jon Fell');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  second = await person(registry, 'Bea Tarn', 'reviewer');
});
beforeEach(async () => {
  names += 1;
  vehicle = await vehicleOf(registry, tester, `Skerry ${names}`);
  loopId = await loopOf(registry, tester, `Causeway ${names}`);
});
afterAll(remove);

const ids = () => ({ carId: vehicle.carId, setupId: vehicle.baselineId, loopId });
const carName = () => `Skerry ${names} of ${tester.accountId.slice(-4)}`;
const mass = (registeredMassKg: number, by = tester) =>
  correctCar(registry, by, {
    carId: vehicle.carId,
    name: carName(),
    ...KNOWN,
    registeredMassKg,
    reason: WHY,
  });
const counted = async (run: SubmittedRunRef) =>
  (await prisma.countedRun.findFirstOrThrow({ where: { runId: run.runId } })).z;
const revisions = (run: SubmittedRunRef) =>
  prisma.runRevision.findMany({
    where: { runId: run.runId },
    orderBy: { number: 'asc' },
    include: {
      inputs: true,
      normalisations: true,
      findings: true,
      readings: true,
      conditions: true,
      evidence: true,
      decisions: true,
    },
  });

async function waiting(proposed: Proposed) {
  if (proposed.kind !== 'proposed') throw new Error(`not proposed: ${proposed.kind}`);
  await runJobsNow(registry);
  return prisma.correction.findUniqueOrThrow({
    where: { number: proposed.number },
    include: { runs: { orderBy: { number: 'asc' } } },
  });
}

const decide = (
  correction: { id: string; computation: number },
  kind: 'approve' | 'reject' = 'approve',
  by: Actor = reviewer,
) =>
  decideCorrection(registry, by, {
    correctionId: correction.id,
    computation: correction.computation,
    kind,
    reason: CHECKED,
  });

describe('a correction of a car', () => {
  it('changes nothing until it is approved, then every run that was computed from the wrong value', async () => {
    const first = await approved(registry, tester, reviewer, ids());
    const next = await approved(registry, tester, reviewer, { ...ids(), startedAtLocal: '2026-05-15T09:30' });
    await runJobsNow(registry);
    const before = [await counted(first), await counted(next)];
    const correction = await waiting(await mass(3200));
    expect(correction).toMatchObject({ state: 'waiting', fault: null });
    expect(correction.runs).toHaveLength(2);
    expect([await counted(first), await counted(next)]).toEqual(before);
    expect(
      (await prisma.car.findUniqueOrThrow({ where: { id: vehicle.carId } })).registeredMassKg,
    ).toBeNull();
    for (const [index, run] of correction.runs.entries()) {
      expect(Math.log(run.beforeWhPerKm ?? 0)).toBeCloseTo(before[index] ?? 0, 12);
      expect(run.afterWhPerKm).not.toBeCloseTo(run.beforeWhPerKm ?? 0, 3);
      expect(run.afterUWhPerKm).toBeGreaterThan(0);
    }
    await decide(correction);
    const after = [await counted(first), await counted(next)];
    expect(after).toEqual(correction.runs.map((run) => Math.log(run.afterWhPerKm ?? 0)));
    expect((await prisma.car.findUniqueOrThrow({ where: { id: vehicle.carId } })).registeredMassKg).toBe(
      3200,
    );
    const [old, made] = await revisions(first);
    expect(made).toMatchObject({
      number: 2,
      form: old?.form,
      contentHash: old?.contentHash,
      correctionId: correction.id,
    });
    expect(made?.inputs).toMatchObject({ origin: 'corrected' });
    expect(made?.readings.map(({ revisionId: _, ...reading }) => reading)).toEqual(
      old?.readings.map(({ revisionId: _, ...reading }) => reading),
    );
    expect(made?.evidence).toHaveLength(old?.evidence.length ?? 0);
    expect(made?.findings).toHaveLength(old?.findings.length ?? 0);
    expect(made?.decisions).toMatchObject([
      { kind: 'approve', reviewerId: reviewer.accountId, note: CHECKED },
    ]);
    // the one before is untouched: its number can still be read
    expect(old?.normalisations).toHaveLength(1);
    const read = readSnapshot(made?.inputs?.snapshot);
    if (!read.ok) throw new Error(read.message);
    const again = reduceRun(read.snapshot, await methodInEffect(prisma, 'record')).reduction.normalisation;
    expect(again.outcome === 'normalised' && Math.log(again.normalisedWhPerKm)).toBeCloseTo(
      after[0] ?? 0,
      12,
    );
    expect((await checkCounted(registry)).flatMap(({ differences }) => differences)).toEqual([]);
    const jobs = await prisma.job.findMany({ where: { state: 'queued' }, select: { kind: true } });
    expect(new Set(jobs.map(({ kind }) => kind))).toEqual(new Set(['refit', 'learnRoadLoad']));
    const told = await prisma.notification.findMany({ where: { kind: 'correction.approve' } });
    expect(told).toMatchObject([
      { accountId: tester.accountId, text: expect.stringContaining('2 runs of yours have') },
    ]);
  });

  it('rejected leaves all as it was, and says why', async () => {
    const run = await approved(registry, tester, reviewer, ids());
    const before = await counted(run);
    const correction = await waiting(await mass(3200));
    await decide(correction, 'reject');
    expect(await counted(run)).toBe(before);
    expect(await revisions(run)).toHaveLength(1);
    expect(
      (await prisma.car.findUniqueOrThrow({ where: { id: vehicle.carId } })).registeredMassKg,
    ).toBeNull();
    const told = await prisma.notification.findFirst({ where: { kind: 'correction.reject' } });
    expect(told).toMatchObject({ accountId: tester.accountId, text: expect.stringContaining(CHECKED) });
    await expect(decide(correction)).rejects.toThrow(/decided already/);
  });

  it('is nobody’s to decide who proposed it, has a run in it or drives in a study of one', async () => {
    const car = await vehicleOf(registry, reviewer, `Reviewer ${names}`);
    await approved(registry, reviewer, second, { carId: car.carId, setupId: car.baselineId, loopId });
    const { runId } = await approved(registry, tester, reviewer, ids());
    const correction = await waiting(
      await correctLoop(registry, tester, { ...loopValues(), slug: `causeway-${names}`, altitudeM: 220 }),
    );
    expect(correction.runs).toHaveLength(2);
    await expect(decide(correction, 'approve', reviewer)).rejects.toThrow(NotAllowed);
    await expect(decide(correction, 'approve', tester)).rejects.toThrow(NotAllowed);
    const at = registry.now();
    const study = {
      slug: `study-${names}`,
      world: RECORD,
      question: 'Does the low ride height use less?',
      ownerId: second.accountId,
      modelId: vehicle.modelId,
      loopId,
      cruiseClassKey: 'kmh-110',
      requestId: null,
      createdAt: at,
    };
    const { id: studyId } = await insertStudy(prisma, study, planOf(1));
    await insertStudyRuns(prisma, [
      { runId, studyId, version: 1, wasChosen: false, addedAt: at, addedById: tester.accountId },
    ]);
    await expect(decide(correction, 'approve', second)).rejects.toThrow(/run or drive in a study/);
    await prisma.studyTester.deleteMany({ where: { studyId } });
    await decide(correction, 'approve', second);
  });

  it('leaves runs alone that were driven when the value was another one', async () => {
    const run = await approved(registry, tester, reviewer, ids());
    await prisma.car.update({ where: { id: vehicle.carId }, data: { registeredMassKg: 3100 } });
    const later = await approved(registry, tester, reviewer, {
      ...ids(),
      startedAtLocal: '2026-06-15T09:30',
    });
    const correction = await waiting(await mass(3200));
    expect(correction.runs.map(({ runId }) => runId)).toEqual([later.runId]);
    await decide(correction);
    expect(await revisions(run)).toHaveLength(1);
    expect(await revisions(later)).toHaveLength(2);
  });

  it('is made at once where no run rests on it', async () => {
    expect(await mass(3200)).toEqual({ kind: 'made' });
    expect(await mass(3200)).toEqual({ kind: 'nothing' });
  });

  it('is one at a time, and another one comes on top of the first', async () => {
    const run = await approved(registry, tester, reviewer, ids());
    const proposals = await Promise.allSettled([mass(3200), mass(3300)]);
    expect(proposals.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    const [made] = proposals.flatMap((each) => (each.status === 'fulfilled' ? [each.value] : []));
    if (made === undefined) throw new Error('none was proposed');
    await decide(await waiting(made));
    const between = await counted(run);
    const back = await waiting(
      await correctCar(registry, tester, { carId: vehicle.carId, name: carName(), ...KNOWN, reason: WHY }),
    );
    await decide(back);
    expect(await revisions(run)).toHaveLength(3);
    expect(await counted(run)).not.toBe(between);
    const [first, , third] = await revisions(run);
    expect(third?.normalisations[0]?.normalisedWhPerKm).toBe(first?.normalisations[0]?.normalisedWhPerKm);
  });

  it('is computed anew where a run came or went meanwhile, and decided on what was read only', async () => {
    const run = await approved(registry, tester, reviewer, ids());
    const correction = await waiting(await mass(3200));
    const late = await approved(registry, tester, reviewer, { ...ids(), startedAtLocal: '2026-05-16T09:30' });
    await expect(decide(correction)).rejects.toThrow(/computed anew/);
    await runJobsNow(registry);
    await expect(decide(correction)).rejects.toThrow(Conflict);
    const anew = await prisma.correction.findUniqueOrThrow({
      where: { id: correction.id },
      include: { runs: true },
    });
    expect(anew.runs).toHaveLength(2);
    await retractRun(registry, tester, { runId: run.runId, reason: 'The route was another one.' });
    await expect(decide(anew)).rejects.toThrow(/computed anew/);
    await runJobsNow(registry);
    const third = await prisma.correction.findUniqueOrThrow({
      where: { id: correction.id },
      include: { runs: true },
    });
    expect(third.runs.map(({ runId }) => runId)).toEqual([late.runId]);
    await decide(third);
    expect(await revisions(run)).toHaveLength(1);
    expect(await prisma.countedRun.count({ where: { runId: run.runId } })).toBe(0);
  });

  it('gives a run that waits for review its next revision, which nobody decides on unread', async () => {
    const run = await submitted(registry, tester, ids());
    await claimRun(registry, second, { runId: run.runId });
    const correction = await waiting(await mass(3200));
    expect(correction.runs).toMatchObject([{ isCounted: false }]);
    await decide(correction);
    await expect(
      decideReview(registry, second, { runId: run.runId, revisionNumber: 1, kind: 'approve' }),
    ).rejects.toThrow(/newer revision/);
    await decideReview(registry, second, { runId: run.runId, revisionNumber: 2, kind: 'approve' });
    expect(await counted(run)).toBe(Math.log(correction.runs[0]?.afterWhPerKm ?? 0));
  });

  it('passes over a run that was withdrawn, which is sent again by the corrected car', async () => {
    const run = await submitted(registry, tester, ids());
    await approved(registry, tester, reviewer, { ...ids(), startedAtLocal: '2026-05-16T09:30' });
    const correction = await waiting(await mass(3200));
    await withdrawRun(registry, tester, { runId: run.runId });
    await expect(decide(correction)).rejects.toThrow(/computed anew/);
    await runJobsNow(registry);
    await decide(await prisma.correction.findUniqueOrThrow({ where: { id: correction.id } }));
    const { draftVersion } = await prisma.run.findUniqueOrThrow({ where: { id: run.runId } });
    await submitRun(registry, tester, { runId: run.runId, draftVersion });
    const [, sent] = await revisions(run);
    expect(sent?.inputs?.snapshot).toMatchObject({ car: { registeredMassKg: 3200 } });
  });

  it('can be taken back, by who proposed it', async () => {
    await approved(registry, tester, reviewer, ids());
    const correction = await waiting(await mass(3200));
    await expect(withdrawCorrection(registry, other, { correctionId: correction.id })).rejects.toThrow(
      NotAllowed,
    );
    await withdrawCorrection(registry, tester, { correctionId: correction.id });
    await expect(decide(correction)).rejects.toThrow(/taken back/);
    expect(await mass(3250)).toMatchObject({ kind: 'proposed' });
  });
});

describe('a calibration', () => {
  const calibration = (measuredOn: string) =>
    addCalibration(registry, tester, {
      carId: vehicle.carId,
      instrument: 'speedometer',
      factor: 0.982,
      standardUncertainty: 0.002,
      method: 'Against satellite positioning over 60 km',
      measuredOn,
    });

  it('from before runs is a correction of those that it touches; from after them it holds at once', async () => {
    const by = { trueSpeedMethod: 'calibratedSpeedometer', trueSpeed: '69.7', indicatedSpeed: '71' };
    const early = await approved(registry, tester, reviewer, ids());
    const touched = await submitted(registry, tester, {
      ...ids(),
      ...by,
      startedAtLocal: '2026-05-20T09:30',
    });
    expect(await calibration('2026-09-01')).toEqual({ kind: 'made' });
    const correction = await waiting(await calibration('2026-05-18'));
    expect(correction.runs.map(({ runId }) => runId)).toEqual([touched.runId]);
    expect(await prisma.instrumentCalibration.count({ where: { carId: vehicle.carId } })).toBe(1);
    await decide(correction);
    expect(await prisma.instrumentCalibration.count({ where: { carId: vehicle.carId } })).toBe(2);
    const [, made] = await revisions(touched);
    expect(made?.normalisations[0]?.result).toMatchObject({ speed: { source: 'calibratedSpeedometer' } });
    expect(await revisions(early)).toHaveLength(1);
  });
});

const loopValues = () => ({
  region: 'Outer Isles',
  turnaround: 'Junction 9',
  lengthM: 107_500,
  lengthUncertaintyM: 100,
  lengthSource: 'map',
  altitudeM: 20,
  closureDistanceM: 20,
  closureHeightM: 0,
  sharedRouteShare: 0.98,
  offCruiseShare: 0.05,
  postedLimitMps: 120 / 3.6,
  reason: 'A survey gave another value for the loop.',
});

describe('a correction of what others’ runs rest on', () => {
  it('of a loop is its owner’s or a steward’s to propose, legs and directions too', async () => {
    const run = await approved(registry, tester, reviewer, ids());
    const slug = `causeway-${names}`;
    await expect(correctLoop(registry, other, { ...loopValues(), slug, altitudeM: 220 })).rejects.toThrow(
      NotAllowed,
    );
    const steward = await person(registry, `Steward ${names}`, 'steward');
    const leg = (direction: 'outbound' | 'return', bearingDeg: number) => ({
      direction,
      lengthM: 53_900,
      netClimbM: direction === 'outbound' ? 12 : -12,
      bearings: [{ bearingDeg, share: 1 }],
    });
    const correction = await waiting(
      await correctLoop(registry, steward, {
        ...loopValues(),
        slug,
        lengthM: 107_800,
        directions: {
          bearings: [
            { bearingDeg: 30, share: 0.5 },
            { bearingDeg: 210, share: 0.5 },
          ],
          legs: [leg('return', 210), leg('outbound', 30)],
        },
      }),
    );
    await decide(correction);
    const [, made] = await revisions(run);
    expect(made?.inputs?.snapshot).toMatchObject({
      loop: {
        lengthM: 107_800,
        legs: [{ netClimbM: 12, bearings: [{ bearingDeg: 30 }] }, { netClimbM: -12 }],
      },
    });
    const loop = await prisma.loop.findUniqueOrThrow({ where: { id: loopId }, include: { legs: true } });
    expect(loop).toMatchObject({ lengthM: 107_800, bearings: [{ bearingDeg: 30 }, { bearingDeg: 210 }] });
    expect(loop.legs).toHaveLength(2);
  });

  it('of a model moves every car’s runs that took its value', async () => {
    const run = await approved(registry, tester, reviewer, ids());
    const model = await prisma.vehicleModel.findUniqueOrThrow({ where: { id: vehicle.modelId } });
    const sheet = { slug: model.slug, bodyClass: 'pickup', usableCapacityWh: 120_000, reason: WHY };
    await expect(correctModel(registry, other, { ...sheet, kerbMassKg: 2700 })).rejects.toThrow(NotAllowed);
    const correction = await waiting(await correctModel(registry, tester, { ...sheet, kerbMassKg: 2700 }));
    expect(correction.runs).toHaveLength(1);
    await decide(correction);
    expect(await counted(run)).toBe(Math.log(correction.runs[0]?.afterWhPerKm ?? 0));
    expect((await prisma.vehicleModel.findUniqueOrThrow({ where: { id: vehicle.modelId } })).kerbMassKg).toBe(
      2700,
    );
  });
});

describe('corrected readings of an approved run', () => {
  it('count once they are approved; the run stays the run it is', async () => {
    const run = await approved(registry, tester, reviewer, ids());
    const before = await counted(run);
    const [old] = await revisions(run);
    const form = { ...(old?.form as Record<string, string>), airTemperature: '9' };
    await expect(correctRun(registry, other, { runId: run.runId, form, reason: WHY })).rejects.toThrow(
      NotAllowed,
    );
    await expect(
      correctRun(registry, tester, {
        runId: run.runId,
        form: { ...form, setupId: vehicle.lowId },
        reason: WHY,
      }),
    ).rejects.toThrow(/setup cannot be corrected/);
    const correction = await waiting(
      await correctRun(registry, tester, { runId: run.runId, form, reason: WHY }),
    );
    expect(await counted(run)).toBe(before);
    await decide(correction);
    expect(await counted(run)).not.toBe(before);
    const [, made] = await revisions(run);
    expect(made?.form).toMatchObject({ airTemperature: '9' });
    expect(made?.readings.find(({ quantity }) => quantity === 'airTemperature')?.enteredText).toBe('9');
    expect(made?.conditions?.airTemperatureC).not.toBe(old?.conditions?.airTemperatureC);
  });

  it('of a run that was retracted meanwhile come to nothing', async () => {
    const run = await approved(registry, tester, reviewer, ids());
    const [old] = await revisions(run);
    const form = { ...(old?.form as Record<string, string>), airTemperature: '9' };
    const correction = await waiting(
      await correctRun(registry, tester, { runId: run.runId, form, reason: WHY }),
    );
    await retractRun(registry, tester, { runId: run.runId, reason: 'The route was another one.' });
    await expect(decide(correction)).rejects.toThrow(/computed anew/);
    await runJobsNow(registry);
    expect(await prisma.correction.findUniqueOrThrow({ where: { id: correction.id } })).toMatchObject({
      state: 'withdrawn',
      decision: expect.stringContaining('does not count'),
    });
    clock.now = new Date(clock.now.getTime() + 1000);
  });
});

describe('a correction in a registry of before', () => {
  it('of a run from before inputs were kept starts from those rebuilt, as from those kept', async () => {
    const run = await approved(registry, tester, reviewer, ids());
    await runJobsNow(registry);
    const takenBack = async (correction: { id: string }) =>
      withdrawCorrection(registry, tester, { correctionId: correction.id });
    const kept = await waiting(await mass(3200));
    await takenBack(kept);
    const before = await counted(run);
    await prisma.$transaction([
      prisma.$executeRaw`ALTER TABLE "RevisionInputs" DISABLE TRIGGER "RevisionInputs_append_only"`,
      prisma.$executeRaw`DELETE FROM "RevisionInputs" WHERE "revisionId" IN (
        SELECT "id" FROM "RunRevision" WHERE "runId" = ${run.runId}::uuid)`,
      prisma.$executeRaw`ALTER TABLE "RevisionInputs" ENABLE TRIGGER "RevisionInputs_append_only"`,
    ]);
    const without = await waiting(await mass(3200));
    expect(without.fault).toContain(`run ${run.runNumber}: what it was made from is not there.`);
    await expect(decide(without)).rejects.toThrow();
    await takenBack(without);
    expect(await rebuildInputs(registry)).toBe(1);
    const rebuilt = await waiting(await mass(3200));
    const numbers = ({ runs }: typeof kept) =>
      runs.map(({ beforeWhPerKm, afterWhPerKm, afterUWhPerKm }) => [
        beforeWhPerKm,
        afterWhPerKm,
        afterUWhPerKm,
      ]);
    expect(numbers(rebuilt)).toEqual(numbers(kept));
    expect(numbers(rebuilt)[0]?.[0]).not.toBe(numbers(rebuilt)[0]?.[1]);
    expect(await counted(run)).toBe(before);
    await decide(rebuilt);
    expect((await revisions(run)).map(({ inputs }) => inputs?.origin)).toEqual([
      'reconstructed',
      'corrected',
    ]);
    expect(await counted(run)).toBe(Math.log(rebuilt.runs[0]?.afterWhPerKm ?? 0));
  });
});
