import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FRESH_MS } from '@/lib/access/fresh';
import { addCar } from '@/lib/registry/cars/addCar';
import { setupChoices } from '@/lib/registry/cars/carChoices';
import { mergeCars, previewCarMerge } from '@/lib/registry/cars/mergeCars';
import { myCars } from '@/lib/registry/cars/myCars';
import { checkCounted } from '@/lib/registry/counted/checkCounted';
import { correctLoop } from '@/lib/registry/loops/correctLoop';
import { readLoop } from '@/lib/registry/loops/loop';
import { readLoops } from '@/lib/registry/loops/loops';
import { mergeLoops, previewLoopMerge } from '@/lib/registry/loops/mergeLoops';
import { mergeLevels, previewLevelMerge } from '@/lib/registry/models/mergeLevels';
import { mergeModels, previewModelMerge } from '@/lib/registry/models/mergeModels';
import { readModel } from '@/lib/registry/models/model';
import { readModels } from '@/lib/registry/models/models';
import { setHiding } from '@/lib/registry/names/hide';
import { movedAddress } from '@/lib/registry/names/movedAddress';
import { renameCar, renameLevel, renameLoop, renameModel } from '@/lib/registry/names/rename';
import { runJobsNow } from '@/lib/registry/runJobs';
import { formSubjects } from '@/lib/registry/runs/formSubjects';
import { readRunList } from '@/lib/registry/runs/runList';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { addFactorLevel } from '@/lib/registry/setups/addFactorLevel';
import { addSetup } from '@/lib/registry/setups/addSetup';
import { readSetup } from '@/lib/registry/setups/setup';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
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
afterAll(remove);

const REASON = 'It was misspelt when it was added.';
let tester: Actor;
let other: Actor;
let reviewer: Actor;
let steward: Actor;
let vehicle: Vehicle;
let loopId: string;
const runs: SubmittedRunRef[] = [];

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  other = await person(registry, 'Jonas Reet');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  steward = await person(registry, 'Jon Sand', 'steward');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
  const form = { carId: vehicle.carId, loopId };
  for (const [day, setupId] of [
    ['10', vehicle.baselineId],
    ['11', vehicle.lowId],
  ] as const)
    runs.push(
      await approved(registry, tester, reviewer, {
        ...form,
        setupId,
        startedAtLocal: `2026-05-${day}T09:00`,
      }),
    );
}, 60_000);

const loop = (id = loopId) => prisma.loop.findUniqueOrThrow({ where: { id } });
const model = () => prisma.vehicleModel.findUniqueOrThrow({ where: { id: vehicle.modelId } });
const counted = () => prisma.countedRun.findMany({ orderBy: [{ number: 'asc' }, { methodVersion: 'asc' }] });
/** What no renaming and no merging may touch. */
const stored = async () => ({
  revisions: await prisma.runRevision.findMany({ orderBy: { id: 'asc' } }),
  inputs: await prisma.revisionInputs.findMany({ orderBy: { revisionId: 'asc' } }),
  results: await prisma.normalisation.findMany({
    orderBy: [{ revisionId: 'asc' }, { methodVersion: 'asc' }],
  }),
  findings: await prisma.finding.findMany({ orderBy: [{ revisionId: 'asc' }, { ruleId: 'asc' }] }),
});
const differences = async () => (await checkCounted(registry)).flatMap((check) => check.differences);

describe('renaming', () => {
  it('moves no number and leads every old address of a loop to the one it has', async () => {
    const before = [await counted(), await stored()];
    const { slug, name } = await loop();
    const first = await renameLoop(registry, steward, {
      slug,
      seenName: name,
      name: 'Northern causeway',
      reason: REASON,
    });
    const second = await renameLoop(registry, steward, {
      slug: first.slug,
      seenName: 'Northern causeway',
      name: 'Causeway of the north',
      reason: REASON,
    });
    expect([await counted(), await stored()]).toEqual(before);
    expect(await differences()).toEqual([]);
    for (const old of [slug, first.slug]) {
      expect(await movedAddress(registry, 'loop', old)).toBe(second.slug);
      expect(await readLoop(registry, old)).toBeUndefined();
      // a filter by the old address finds what it found
      expect((await readRunList(registry, { loop: old })).rows).toHaveLength(2);
    }
    expect(await movedAddress(registry, 'loop', second.slug)).toBeUndefined();
    expect((await readLoop(registry, second.slug))?.runs.total).toBe(2);
    // found by what it was called as well
    expect((await readLoops(registry, { text: 'north causeway' })).rows.map((row) => row.slug)).toEqual([
      second.slug,
    ]);
    // nobody else gets an address that leads here
    const newcomer = await loop(await loopOf(registry, other, 'Northern causeway'));
    expect(newcomer.slug).toBe(`${first.slug}-2`);
    // its own again, it leads nowhere else
    const back = await renameLoop(registry, steward, {
      slug: second.slug,
      seenName: 'Causeway of the north',
      name,
      reason: REASON,
    });
    expect(back.slug).toBe(slug);
    expect(await movedAddress(registry, 'loop', slug)).toBeUndefined();
    expect(await movedAddress(registry, 'loop', second.slug)).toBe(slug);
    expect(await prisma.auditEntry.count({ where: { action: 'loop.rename', subjectId: loopId } })).toBe(3);
  });

  it('refuses a name that looks like another’s, and one that was changed meanwhile', async () => {
    const { slug, name } = await loop();
    const rename = (changes: object) =>
      renameLoop(registry, steward, { slug, seenName: name, reason: REASON, ...changes });
    await expect(rename({ name: 'N\u043Erthern causeway' })).rejects.toThrow(InvalidInput);
    await expect(rename({ name: 'northern-causeway' })).rejects.toThrow(InvalidInput);
    await expect(rename({ name: 'Something else', seenName: 'Southern causeway' })).rejects.toThrow(Conflict);
    // refused, it has the name and the likeness that it had
    expect((await loop()).name).toBe(name);
    expect(await prisma.nameKey.count({ where: { thingId: loopId } })).toBeGreaterThan(0);
  });

  it('of a model keeps its setups where they are; of a level retitles them', async () => {
    const before = [await counted(), await stored()];
    const { slug } = await model();
    const slugs = (await prisma.setup.findMany({ orderBy: { id: 'asc' } })).map((setup) => setup.slug);
    const view = await readModel(registry, slug);
    const renamed = await renameModel(registry, steward, {
      slug,
      seenName: view?.name,
      name: 'Skerry',
      variant: 'long bed, first series',
      reason: REASON,
    });
    expect(await movedAddress(registry, 'model', slug)).toBe(renamed.slug);
    expect((await readModel(registry, renamed.slug))?.name).toContain('long bed, first series');
    expect((await readModels(registry, { text: 'long bed' })).rows.map((row) => row.slug)).toEqual([
      renamed.slug,
    ]);
    expect((await prisma.setup.findMany({ orderBy: { id: 'asc' } })).map((setup) => setup.slug)).toEqual(
      slugs,
    );

    const level = await prisma.factorLevel.findFirstOrThrow({ where: { label: 'low' } });
    const rename = { levelId: level.id, seenName: 'low', reason: REASON };
    await expect(renameLevel(registry, steward, { ...rename, name: 'N\u043Ermal' })).rejects.toThrow(
      InvalidInput,
    );
    await renameLevel(registry, steward, { ...rename, name: 'lowered' });
    await expect(renameLevel(registry, steward, { ...rename, name: 'lower' })).rejects.toThrow(Conflict);
    const low = await prisma.setup.findUniqueOrThrow({ where: { id: vehicle.lowId } });
    expect(low).toMatchObject({ title: 'Ride height: lowered', levelsKey: expect.stringContaining('low') });
    expect((await prisma.factorLevel.findUniqueOrThrow({ where: { id: level.id } })).key).toBe(level.key);
    expect([await counted(), await stored()]).toEqual(before);
    expect(await differences()).toEqual([]);
  });

  it('is a steward’s, with a fresh proof', async () => {
    const { slug, name } = await loop();
    const input = { slug, seenName: name, name: 'Something else', reason: REASON };
    for (const actor of [tester, reviewer, undefined])
      await expect(renameLoop(registry, actor, input)).rejects.toThrow(NotAllowed);
    const stale = { ...steward, provedAt: new Date(clock.now.getTime() - FRESH_MS - 1) };
    await expect(renameLoop(registry, stale, input)).rejects.toThrow('Confirm first');
  });
});

describe('hiding', () => {
  it('takes out of lists and choices, and leaves the page and what counts', async () => {
    const before = await counted();
    const { slug } = await loop();
    const hide = (kind: string, key: string, to: 'hidden' | 'shown' = 'hidden') =>
      setHiding(registry, steward, { kind, key, to, reason: REASON });
    await hide('loop', slug);
    await expect(hide('loop', slug)).rejects.toThrow(Conflict);
    expect((await readLoops(registry)).rows.map((row) => row.slug)).not.toContain(slug);
    expect(await readLoop(registry, slug)).toMatchObject({ hiddenReason: REASON });
    const offered = (await formSubjects(registry, tester.accountId)).loops.map(({ id }) => id);
    expect(offered).not.toContain(loopId);
    const form = completeForm({ loopId });
    const kept = await formSubjects(registry, tester.accountId, { runId: runs[0]?.runId ?? '', form });
    expect(kept.loops.map(({ id }) => id)).toContain(loopId);
    await hide('loop', slug, 'shown');
    expect((await readLoops(registry)).rows.map((row) => row.slug)).toContain(slug);

    const { slug: modelSlug } = await model();
    await hide('model', modelSlug);
    expect((await readModels(registry)).rows.map((row) => row.slug)).not.toContain(modelSlug);
    expect(await readModel(registry, modelSlug)).toMatchObject({ hiddenReason: REASON });
    await hide('model', modelSlug, 'shown');

    const levels = await prisma.factorLevel.findMany({ where: { modelId: vehicle.modelId } });
    const [delivered, low] = [true, false].map(
      (is) => levels.find(({ isBaseline }) => isBaseline === is)?.id ?? '',
    );
    await expect(hide('level', delivered ?? '')).rejects.toThrow(Conflict);
    await hide('level', low ?? '');
    const { factors } = await setupChoices(registry, tester, vehicle.modelId);
    expect(factors.flatMap(({ levels: some }) => some.map(({ id }) => id))).not.toContain(low);
    await hide('level', low ?? '', 'shown');
    expect(await counted()).toEqual(before);
  });
});

describe('merging two loops', () => {
  it('brings what hangs on both to one, with every number as it was', async () => {
    const car = await vehicleOf(registry, other, 'Brisk');
    const doubleId = await loopOf(registry, other, 'Causeway twice');
    const onDouble = { setupId: vehicle.baselineId, loopId: doubleId };
    // the same car on the same day as on the first: one session there
    const same = await approved(registry, tester, reviewer, {
      ...onDouble,
      carId: vehicle.carId,
      startedAtLocal: '2026-05-10T15:00',
    });
    const apart = await approved(registry, other, reviewer, {
      carId: car.carId,
      setupId: car.baselineId,
      loopId: doubleId,
      startedAtLocal: '2026-05-21T09:00',
    });
    const draft = await startDraft(registry, other, {
      creationKey: crypto.randomUUID(),
      form: completeForm({ carId: car.carId, setupId: car.baselineId, loopId: doubleId }),
    });
    await runJobsNow(registry);
    const [from, into] = [await loop(doubleId), await loop()];
    const before = await counted();
    const untouched = await stored();
    expect(await previewLoopMerge(registry, steward, { key: from.slug, intoKey: into.slug })).toMatchObject({
      runs: 2,
      counted: 2,
      sessions: 2,
      joined: 1,
      classes: ['70 mph'],
      refusal: undefined,
    });
    await mergeLoops(registry, steward, { key: from.slug, intoKey: into.slug, reason: REASON });

    expect(await stored()).toEqual(untouched);
    const after = await counted();
    const numbers = ({
      runId,
      z,
      u,
      measuredWhPerKm,
      uWhPerKm,
      countedAt,
      setupId,
      modelId,
    }: (typeof after)[number]) => ({
      runId,
      z,
      u,
      measuredWhPerKm,
      uWhPerKm,
      countedAt,
      setupId,
      modelId,
    });
    expect(after.map(numbers)).toEqual(before.map(numbers));
    expect(new Set(after.map((row) => row.loopId))).toEqual(new Set([loopId]));
    expect(JSON.stringify(after)).not.toContain(doubleId);
    expect(await differences()).toEqual([]);
    const session = (run: SubmittedRunRef | undefined) =>
      after.find(({ runId }) => runId === run?.runId)?.sessionId;
    expect(session(same)).toBe(session(runs[0]));
    expect(session(apart)).not.toBe(session(runs[0]));
    expect(await prisma.session.count({ where: { loopId: doubleId } })).toBe(0);
    const queued = await prisma.job.findMany({ where: { state: 'queued', kind: 'refit' } });
    expect(queued).toHaveLength(1);
    await runJobsNow(registry);
    expect(await prisma.job.count({ where: { state: 'failed' } })).toBe(0);

    // every address of the one leads to the other, also through a later rename of that
    expect(await movedAddress(registry, 'loop', from.slug)).toBe(into.slug);
    expect(await readLoop(registry, from.slug)).toBeUndefined();
    expect((await readLoop(registry, into.slug))?.runs.total).toBe(4);
    expect((await readLoops(registry)).rows.map((row) => row.slug)).not.toContain(from.slug);
    const later = await renameLoop(registry, steward, {
      slug: into.slug,
      seenName: into.name,
      name: 'One causeway',
      reason: REASON,
    });
    for (const old of [from.slug, into.slug])
      expect(await movedAddress(registry, 'loop', old)).toBe(later.slug);

    // a draft has the loop that stays, and a phone that still names the other one as well
    expect((await prisma.run.findUniqueOrThrow({ where: { id: draft.runId } })).draft).toMatchObject({
      loopId,
    });
    const sent = await submitted(registry, other, {
      carId: car.carId,
      setupId: car.baselineId,
      loopId: doubleId,
      startedAtLocal: '2026-05-22T09:00',
    });
    expect((await prisma.run.findUniqueOrThrow({ where: { id: sent.runId } })).loopId).toBe(loopId);
    await expect(
      mergeLoops(registry, steward, { key: from.slug, intoKey: later.slug, reason: REASON }),
    ).rejects.toThrow('was merged before');
  });

  it('is refused where the two are not one road, or something of them is not decided', async () => {
    const { slug: intoSlug } = await loop();
    const two = await loop(await loopOf(registry, other, 'Another road'));
    const refusal = async () =>
      (await previewLoopMerge(registry, steward, { key: two.slug, intoKey: intoSlug })).refusal;
    const merge = () => mergeLoops(registry, steward, { key: two.slug, intoKey: intoSlug, reason: REASON });
    const set = (data: object) => prisma.loop.update({ where: { id: two.id }, data });
    // both to within 100 m: twice the root of the sum of squares is 282.8 m
    await set({ lengthM: two.lengthM + 282 });
    expect(await refusal()).toBeUndefined();
    await set({ lengthM: two.lengthM + 283 });
    expect(await refusal()).toContain('lengths differ');
    await expect(merge()).rejects.toThrow('lengths differ');
    await set({ lengthM: two.lengthM, postedLimitMps: 100 / 3.6 });
    await expect(merge()).rejects.toThrow('limits differ');
    await set({ postedLimitMps: two.postedLimitMps, world: 'demo' });
    await expect(merge()).rejects.toThrow('different worlds');
    await set({ world: 'record' });
    await setHiding(registry, steward, { kind: 'loop', key: intoSlug, to: 'hidden', reason: REASON });
    await expect(merge()).rejects.toThrow('is hidden');
    await setHiding(registry, steward, { kind: 'loop', key: intoSlug, to: 'shown', reason: REASON });
    await expect(
      mergeLoops(registry, steward, { key: intoSlug, intoKey: intoSlug, reason: REASON }),
    ).rejects.toThrow('itself');
    const { name: _, ...values } = await loop();
    const corrected = await correctLoop(registry, tester, {
      ...values,
      slug: intoSlug,
      grossClimbM: undefined,
      altitudeM: 40,
      reason: 'The height was read off a wrong map.',
    });
    expect(corrected.kind).toBe('proposed');
    await expect(merge()).rejects.toThrow('not decided yet');
    await expect(
      mergeLoops(registry, reviewer, { key: two.slug, intoKey: intoSlug, reason: REASON }),
    ).rejects.toThrow(NotAllowed);
  });
});

/** What no merge may move of a counted run. */
const numbers = async () =>
  (await counted()).map(({ runId, methodVersion, z, u, measuredWhPerKm, uWhPerKm, countedAt }) => ({
    runId,
    methodVersion,
    z,
    u,
    measuredWhPerKm,
    uWhPerKm,
    countedAt,
  }));

/** Does it, and holds what may never change against what was there before. */
async function keepingAll(merge: () => Promise<unknown>): Promise<void> {
  await runJobsNow(registry);
  const before = [await numbers(), await stored()];
  await merge();
  expect([await numbers(), await stored()]).toEqual(before);
  expect(await differences()).toEqual([]);
  await runJobsNow(registry);
  expect(await prisma.job.count({ where: { state: 'failed' } })).toBe(0);
}

describe('a car', () => {
  it('is renamed and hidden by a steward, and its runs go on counting', async () => {
    const before = [await counted(), await stored()];
    const { name } = await prisma.car.findUniqueOrThrow({ where: { id: vehicle.carId } });
    const rename = { slug: vehicle.carId, seenName: name, name: 'The grey one', reason: REASON };
    await expect(renameCar(registry, reviewer, rename)).rejects.toThrow(NotAllowed);
    await renameCar(registry, steward, rename);
    await expect(renameCar(registry, steward, rename)).rejects.toThrow(Conflict);
    const offered = async () => (await formSubjects(registry, tester.accountId)).cars.map((car) => car.name);
    expect(await offered()).toContain('The grey one');
    const hide = { kind: 'car', key: vehicle.carId, reason: REASON };
    await setHiding(registry, steward, { ...hide, to: 'hidden' });
    expect(await offered()).not.toContain('The grey one');
    await setHiding(registry, steward, { ...hide, to: 'shown' });
    expect(await offered()).toContain('The grey one');
    expect([await counted(), await stored()]).toEqual(before);
  });

  it('that is here twice becomes one, with sessions, drafts and calibrations', async () => {
    const { carId } = await addCar(registry, tester, {
      modelId: vehicle.modelId,
      name: 'The same once more',
      placardFrontPa: 290_000,
      placardRearPa: 290_000,
    });
    const form = { carId, setupId: vehicle.baselineId, loopId };
    // on a day that the other entry knows, and on one of its own
    const joined = await approved(registry, tester, reviewer, {
      ...form,
      startedAtLocal: '2026-05-11T15:00',
    });
    await approved(registry, tester, reviewer, { ...form, startedAtLocal: '2026-06-02T09:00' });
    const draft = await startDraft(registry, tester, {
      creationKey: crypto.randomUUID(),
      form: completeForm(form),
    });
    const pair = { key: carId, intoKey: String(runs[0]?.runNumber) };
    expect(await previewCarMerge(registry, steward, pair)).toMatchObject({
      runs: 2,
      counted: 2,
      sessions: 2,
      joined: 1,
      refusal: undefined,
    });
    await expect(mergeCars(registry, reviewer, { ...pair, reason: REASON })).rejects.toThrow(NotAllowed);
    await prisma.car.update({ where: { id: carId }, data: { registeredMassKg: 2950 } });
    await expect(mergeCars(registry, steward, { ...pair, reason: REASON })).rejects.toThrow('2950 kg');
    await prisma.car.update({ where: { id: carId }, data: { registeredMassKg: null } });
    await keepingAll(() => mergeCars(registry, steward, { ...pair, reason: REASON }));
    const after = await counted();
    expect(JSON.stringify(after)).not.toContain(carId);
    const sessionOf = (runId: string | undefined) => after.find((row) => row.runId === runId)?.sessionId;
    expect(sessionOf(joined.runId)).toBe(sessionOf(runs[1]?.runId));
    expect((await myCars(registry, tester)).map(({ id }) => id)).not.toContain(carId);
    expect((await prisma.run.findUniqueOrThrow({ where: { id: draft.runId } })).draft).toMatchObject({
      carId: vehicle.carId,
    });
    // a phone that still names the other entry sends a run with the one that stayed
    const late = await submitted(registry, tester, { ...form, startedAtLocal: '2026-06-05T09:00' });
    expect((await prisma.run.findUniqueOrThrow({ where: { id: late.runId } })).carId).toBe(vehicle.carId);
    await expect(mergeCars(registry, steward, { ...pair, reason: REASON })).rejects.toThrow('merged before');
    expect(await prisma.auditEntry.count({ where: { action: 'car.merge', subjectId: carId } })).toBe(1);
  });

  it('that was sold is one vehicle, and each run stays with who drove it', async () => {
    const { carId } = await addCar(registry, other, {
      modelId: vehicle.modelId,
      name: 'Bought from Mira',
      placardFrontPa: 290_000,
      placardRearPa: 290_000,
    });
    const sold = await approved(registry, other, reviewer, {
      carId,
      setupId: vehicle.baselineId,
      loopId,
      startedAtLocal: '2026-07-02T09:00',
    });
    const pair = { key: carId, intoKey: vehicle.carId };
    const draft = await startDraft(registry, other, {
      creationKey: crypto.randomUUID(),
      form: completeForm({ carId }),
    });
    expect((await previewCarMerge(registry, steward, pair)).refusal).toContain('not decided on');
    await prisma.run.delete({ where: { id: draft.runId } });
    expect(await previewCarMerge(registry, steward, pair)).toMatchObject({
      owners: ['Jonas Reet', 'Mira Holm'],
      refusal: undefined,
    });
    await keepingAll(() =>
      mergeCars(registry, steward, { ...pair, reason: 'It was sold in June, says both.' }),
    );
    expect((await counted()).find(({ runId }) => runId === sold.runId)).toMatchObject({
      carId: vehicle.carId,
      testerId: other.accountId,
    });
  });
});

describe('merging two levels', () => {
  it('makes setups of the one setups of the other, or the same as one that is there', async () => {
    const { modelId, carId } = vehicle;
    const { levelId } = await addFactorLevel(registry, tester, {
      modelId,
      factor: 'rideHeight',
      label: 'lowest notch',
    });
    const { levelId: ecoId } = await addFactorLevel(registry, tester, {
      modelId,
      factor: 'driveMode',
      label: 'normal',
    }).then(() => addFactorLevel(registry, tester, { modelId, factor: 'driveMode', label: 'eco' }));
    const same = await addSetup(registry, tester, { modelId, levelIds: [levelId] });
    const both = await addSetup(registry, tester, { modelId, levelIds: [levelId, ecoId] });
    const form = { carId, loopId };
    const joined = await approved(registry, tester, reviewer, {
      ...form,
      setupId: same.setupId,
      startedAtLocal: '2026-07-10T09:00',
    });
    const moved = await approved(registry, tester, reviewer, {
      ...form,
      setupId: both.setupId,
      startedAtLocal: '2026-07-11T09:00',
    });
    const low = await prisma.factorLevel.findFirstOrThrow({ where: { modelId, key: 'low' } });
    const pair = { key: levelId, intoKey: low.id };
    expect(await previewLevelMerge(registry, steward, pair)).toMatchObject({
      runs: 2,
      counted: 2,
      setups: { joined: ['Ride height: lowest notch'], moved: [expect.stringContaining('eco')] },
      refusal: undefined,
    });
    const delivered = await prisma.factorLevel.findFirstOrThrow({
      where: { modelId, factor: 'rideHeight', isBaseline: true },
    });
    const intoDelivered = { key: levelId, intoKey: delivered.id, reason: REASON };
    await expect(mergeLevels(registry, steward, intoDelivered)).rejects.toThrow('Rename the level');
    await expect(mergeLevels(registry, tester, { ...pair, reason: REASON })).rejects.toThrow(NotAllowed);
    await keepingAll(() => mergeLevels(registry, steward, { ...pair, reason: REASON }));
    const setupOf = async (runId: string) => (await counted()).find((row) => row.runId === runId)?.setupId;
    expect(await setupOf(joined.runId)).toBe(vehicle.lowId);
    expect(await setupOf(moved.runId)).toBe(both.setupId);
    expect(await prisma.setup.findUniqueOrThrow({ where: { id: both.setupId } })).toMatchObject({
      title: expect.stringContaining(`Ride height: ${low.label}`),
      levelsKey: 'driveMode=eco;rideHeight=low',
    });
    // its address leads on, and neither the name nor the id makes the level or the setup anew
    const { slug } = await prisma.setup.findUniqueOrThrow({ where: { id: vehicle.lowId } });
    expect(await movedAddress(registry, 'setup', same.slug)).toBe(slug);
    expect(await readSetup(registry, same.slug, {})).toBeUndefined();
    const level = { modelId, factor: 'rideHeight', label: 'lowest notch' };
    expect(await addFactorLevel(registry, tester, level)).toEqual({ levelId: low.id });
    expect(await addSetup(registry, tester, { modelId, levelIds: [levelId] })).toMatchObject({
      setupId: vehicle.lowId,
    });
    const { factors } = await setupChoices(registry, tester, modelId);
    expect(factors.flatMap(({ levels }) => levels.map(({ id }) => id))).not.toContain(levelId);
    const late = await submitted(registry, tester, {
      ...form,
      setupId: same.setupId,
      startedAtLocal: '2026-07-12T09:00',
    });
    expect((await prisma.run.findUniqueOrThrow({ where: { id: late.runId } })).setupId).toBe(vehicle.lowId);
  });
});

describe('merging two models', () => {
  it('brings cars, levels, setups and studies to one, and is refused where data sheets differ', async () => {
    const twin = await vehicleOf(registry, other, 'Skerry twice');
    const form = { carId: twin.carId, loopId };
    const lowRun = await approved(registry, other, reviewer, {
      ...form,
      setupId: twin.lowId,
      startedAtLocal: '2026-08-02T09:00',
    });
    const { levelId } = await addFactorLevel(registry, other, {
      modelId: twin.modelId,
      factor: 'rideHeight',
      label: 'high',
    });
    const high = await addSetup(registry, other, { modelId: twin.modelId, levelIds: [levelId] });
    const [from, into] = [
      await prisma.vehicleModel.findUniqueOrThrow({ where: { id: twin.modelId } }),
      await model(),
    ];
    const pair = { key: from.slug, intoKey: into.slug };
    const preview = await previewModelMerge(registry, steward, pair);
    expect(preview).toMatchObject({ runs: 1, counted: 1, cars: 1, refusal: undefined });
    expect(preview.levels).toEqual({ joined: ['normal', 'low'], moved: ['high'] });
    expect(preview.setups?.moved).toEqual(['Ride height: high']);
    const set = (kerbMassKg: number) =>
      prisma.vehicleModel.update({ where: { id: twin.modelId }, data: { kerbMassKg } });
    await set(3000);
    const merge = () => mergeModels(registry, steward, { ...pair, reason: REASON });
    await expect(merge()).rejects.toThrow('Kerb mass: 3000 kg and 2900 kg');
    await set(2900);
    await keepingAll(merge);
    expect((await counted()).find(({ runId }) => runId === lowRun.runId)).toMatchObject({
      modelId: vehicle.modelId,
      setupId: vehicle.lowId,
    });
    expect(JSON.stringify(await counted())).not.toContain(twin.modelId);
    expect(await prisma.setup.findUniqueOrThrow({ where: { id: high.setupId } })).toMatchObject({
      modelId: vehicle.modelId,
      levelsKey: 'rideHeight=high',
      mergedIntoId: null,
    });
    expect(await movedAddress(registry, 'model', from.slug)).toBe(into.slug);
    expect(await readModel(registry, from.slug)).toBeUndefined();
    expect((await readModel(registry, into.slug))?.setups.map(({ setupId }) => setupId)).toContain(
      high.setupId,
    );
    expect((await readModels(registry)).rows.map((row) => row.slug)).not.toContain(from.slug);
    // its owner goes on with it, under the setups of the model that stayed
    const late = await submitted(registry, other, {
      ...form,
      setupId: twin.lowId,
      startedAtLocal: '2026-08-05T09:00',
    });
    expect((await prisma.run.findUniqueOrThrow({ where: { id: late.runId } })).setupId).toBe(vehicle.lowId);
    await expect(merge()).rejects.toThrow('merged before');
  });
});
