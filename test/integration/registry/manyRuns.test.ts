import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FRESH_MS } from '@/lib/access/fresh';
import { checkCounted } from '@/lib/registry/counted/checkCounted';
import { actOnManyRuns } from '@/lib/registry/review/actOnManyRuns';
import { holdRun } from '@/lib/registry/review/holdRun';
import { type ManyQuery, previewManyRuns, readManyRuns } from '@/lib/registry/review/manyRuns';
import { readRun } from '@/lib/registry/runs/run';
import { InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import {
  approved,
  loopOf,
  person,
  registryOn,
  type SubmittedRunRef,
  submitted,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const REASON = 'The station of these days was read wrongly.';
let mira: Actor;
let jonas: Actor;
let reviewer: Actor;
let steward: Actor;
let loopSlug: string;
const runs: SubmittedRunRef[] = [];
let ofJonas: SubmittedRunRef;
let waiting: SubmittedRunRef;

beforeAll(async () => {
  mira = await person(registry, 'Mira Holm');
  jonas = await person(registry, 'Jonas Reet');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  steward = await person(registry, 'Jon Sand', 'steward');
  const loopId = await loopOf(registry, mira);
  loopSlug = (await prisma.loop.findUniqueOrThrow({ where: { id: loopId } })).slug;
  const car = await vehicleOf(registry, mira);
  const other = await vehicleOf(registry, jonas, 'Fjordling');
  const form = { carId: car.carId, setupId: car.baselineId, loopId };
  for (const day of ['10', '11', '12'])
    runs.push(await approved(registry, mira, reviewer, { ...form, startedAtLocal: `2026-05-${day}T09:00` }));
  ofJonas = await approved(registry, jonas, reviewer, {
    carId: other.carId,
    setupId: other.lowId,
    loopId,
    startedAtLocal: '2026-05-20T09:00',
  });
  waiting = await submitted(registry, mira, { ...form, startedAtLocal: '2026-05-13T09:00' });
}, 60_000);

const find = async (query: Partial<ManyQuery>) =>
  (await readManyRuns(registry, steward, { act: 'hold', ...query })).rows.map(({ number }) => number);
const numbersOf = (some: readonly SubmittedRunRef[]) => some.map(({ runNumber }) => runNumber);
const seenOf = async (act: 'hold' | 'lift' | 'retract', some: readonly SubmittedRunRef[]) =>
  (await previewManyRuns(registry, steward, { act, numbers: numbersOf(some) })).runs.map(({ seen }) => seen);
const counted = () => prisma.countedRun.findMany({ orderBy: { number: 'asc' } });
const queued = async () => {
  const jobs = await prisma.job.findMany({ where: { state: 'queued' }, orderBy: { kind: 'asc' } });
  return jobs.map(({ kind }) => kind);
};
const differences = async () => (await checkCounted(registry)).flatMap((check) => check.differences);

describe('a list of runs to act on', () => {
  it('is found by tester, car, loop, setup, day and cluster', async () => {
    const all = [waiting, ofJonas, ...runs.toReversed()]
      .map(({ runNumber }) => runNumber)
      .sort((a, b) => b - a);
    expect(await find({})).toEqual(all);
    expect(await find({ tester: 'Jonas Reet' })).toEqual([ofJonas.runNumber]);
    expect(await find({ tester: 'https://runs.example/testers/jonas-reet?x=1' })).toEqual([
      ofJonas.runNumber,
    ]);
    expect(await find({ tester: 'Nobody Such' })).toEqual([]);
    expect(await find({ carOfRun: ofJonas.runNumber })).toEqual([ofJonas.runNumber]);
    expect(await find({ loop: `/loops/${loopSlug}` })).toEqual(all);
    expect(await find({ fromDay: '2026-05-11', toDay: '2026-05-12' })).toEqual(
      [runs[2], runs[1]].map((run) => run?.runNumber),
    );
    expect(await find({ act: 'lift' })).toEqual([]);
    expect(await find({ act: 'retract' })).not.toContain(waiting.runNumber);
    // two whom nobody vouches for count as one
    expect(await find({ tester: 'Jonas Reet', withCluster: true })).toEqual(all);
    await prisma.account.update({ where: { id: mira.accountId }, data: { vouchedAt: clock.now } });
    expect(await find({ tester: 'Jonas Reet', withCluster: true })).toEqual([ofJonas.runNumber]);
  });

  it('is a steward’s, with a fresh proof for the act', async () => {
    const seen = await seenOf('hold', runs);
    for (const actor of [mira, reviewer, undefined]) {
      await expect(readManyRuns(registry, actor, { act: 'hold' })).rejects.toThrow(NotAllowed);
      await expect(actOnManyRuns(registry, actor, { act: 'hold', seen, reason: REASON })).rejects.toThrow(
        NotAllowed,
      );
    }
    const stale = { ...steward, provedAt: new Date(clock.now.getTime() - FRESH_MS - 1) };
    await expect(actOnManyRuns(registry, stale, { act: 'hold', seen, reason: REASON })).rejects.toThrow(
      'Confirm first',
    );
    await expect(actOnManyRuns(registry, steward, { act: 'hold', seen: [], reason: REASON })).rejects.toThrow(
      InvalidInput,
    );
  });
});

describe('many runs', () => {
  it('are held with one reason and freed again, and what counts is then the same to the digit', async () => {
    const before = await counted();
    await prisma.job.deleteMany({});
    const preview = await previewManyRuns(registry, steward, {
      act: 'hold',
      numbers: numbersOf([...runs, waiting]),
    });
    expect(preview).toMatchObject({ counted: 3, classes: ['70 mph'], models: 1, refused: [] });
    expect(preview.runs).toHaveLength(4);

    const held = await actOnManyRuns(registry, steward, {
      act: 'hold',
      seen: preview.runs.map(({ seen }) => seen),
      reason: REASON,
    });
    expect(held).toEqual({ done: numbersOf([...runs, waiting]), refused: [] });
    expect((await counted()).map(({ runId }) => runId)).toEqual([ofJonas.runId]);
    expect(await differences()).toEqual([]);
    // one fit of the class and one of the model's road load, however many runs there were
    expect(await queued()).toEqual(['learnRoadLoad', 'refit']);
    for (const { runNumber } of runs)
      expect(await readRun(registry, undefined, runNumber)).toMatchObject({
        hold: { reason: REASON, by: { displayName: 'Jon Sand' } },
      });
    expect(await prisma.notification.count({ where: { kind: 'run.hold', accountId: mira.accountId } })).toBe(
      4,
    );
    expect(await prisma.auditEntry.count({ where: { action: 'run.hold' } })).toBe(4);
    expect(await prisma.auditEntry.findMany({ where: { action: 'runs.actOnMany' } })).toMatchObject([
      { details: { act: 'hold', runs: numbersOf([...runs, waiting]), left: [], reason: REASON } },
    ]);

    const free = await seenOf('lift', [...runs, waiting]);
    await actOnManyRuns(registry, steward, { act: 'lift', seen: free, reason: 'They were read rightly.' });
    expect(await counted()).toEqual(before);
    expect(await differences()).toEqual([]);
  });

  it('are done but for those that changed meanwhile or are one’s own, which are named', async () => {
    const own = await vehicleOf(registry, steward, 'Brisk');
    const { loopId } = await prisma.countedRun.findFirstOrThrow();
    const mine = await approved(registry, steward, reviewer, {
      carId: own.carId,
      setupId: own.baselineId,
      loopId,
      startedAtLocal: '2026-05-25T09:00',
    });
    const [first, second, third] = runs as [SubmittedRunRef, SubmittedRunRef, SubmittedRunRef];
    const seen = await seenOf('hold', [first, second, third]);
    await holdRun(registry, steward, { runId: second.runId, reason: 'Looked at by itself meanwhile.' });
    const outcome = await actOnManyRuns(registry, steward, {
      act: 'hold',
      seen: [...seen, `${mine.runNumber}.approved.free.1`, '99999.approved.free.1'],
      reason: REASON,
    });
    expect(outcome.done).toEqual(numbersOf([first, third]));
    expect(outcome.refused).toEqual([
      { number: 99999, why: 'there is no such run' },
      { number: second.runNumber, why: 'changed since you looked' },
      { number: mine.runNumber, why: 'your own: another steward decides' },
    ]);
    expect(await differences()).toEqual([]);
    const { refused } = await previewManyRuns(registry, steward, {
      act: 'hold',
      numbers: [first.runNumber, mine.runNumber],
    });
    expect(refused.map(({ why }) => why)).toEqual(['held already', 'your own: another steward decides']);
  });

  it('are retracted with one reason, and their testers told', async () => {
    const seen = await seenOf('retract', [...runs, waiting]);
    expect(seen).toHaveLength(3);
    await actOnManyRuns(registry, steward, { act: 'retract', seen, reason: REASON });
    const retracted = await prisma.retraction.findMany({ orderBy: { run: { number: 'asc' } } });
    expect(retracted).toMatchObject(
      runs.map(({ runId }) => ({ runId, reason: REASON, byId: steward.accountId })),
    );
    expect(
      await prisma.notification.count({ where: { kind: 'run.retract', accountId: mira.accountId } }),
    ).toBe(3);
    expect(await differences()).toEqual([]);
  });
});
