import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FRESH_MS } from '@/lib/access/fresh';
import { setupChoices } from '@/lib/registry/cars/carChoices';
import { checkCounted } from '@/lib/registry/counted/checkCounted';
import { correctLoop } from '@/lib/registry/loops/correctLoop';
import { readLoop } from '@/lib/registry/loops/loop';
import { readLoops } from '@/lib/registry/loops/loops';
import { mergeLoops, previewLoopMerge } from '@/lib/registry/loops/mergeLoops';
import { readModel } from '@/lib/registry/models/model';
import { readModels } from '@/lib/registry/models/models';
import { setHiding } from '@/lib/registry/names/hide';
import { movedAddress } from '@/lib/registry/names/movedAddress';
import { renameLevel, renameLoop, renameModel } from '@/lib/registry/names/rename';
import { runJobsNow } from '@/lib/registry/runJobs';
import { formSubjects } from '@/lib/registry/runs/formSubjects';
import { readRunList } from '@/lib/registry/runs/runList';
import { startDraft } from '@/lib/registry/runs/startDraft';
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
    expect(await previewLoopMerge(registry, steward, { slug: from.slug, intoSlug: into.slug })).toMatchObject(
      {
        runs: 2,
        counted: 2,
        sessions: 2,
        joined: 1,
        classes: ['70 mph'],
        refusal: undefined,
      },
    );
    await mergeLoops(registry, steward, { slug: from.slug, intoSlug: into.slug, reason: REASON });

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
      mergeLoops(registry, steward, { slug: from.slug, intoSlug: later.slug, reason: REASON }),
    ).rejects.toThrow('was merged before');
  });

  it('is refused where the two are not one road, or something of them is not decided', async () => {
    const { slug: intoSlug } = await loop();
    const two = await loop(await loopOf(registry, other, 'Another road'));
    const refusal = async () =>
      (await previewLoopMerge(registry, steward, { slug: two.slug, intoSlug })).refusal;
    const merge = () => mergeLoops(registry, steward, { slug: two.slug, intoSlug, reason: REASON });
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
    await expect(mergeLoops(registry, steward, { slug: intoSlug, intoSlug, reason: REASON })).rejects.toThrow(
      'itself',
    );
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
      mergeLoops(registry, reviewer, { slug: two.slug, intoSlug, reason: REASON }),
    ).rejects.toThrow(NotAllowed);
  });
});
