import { describe, expect, it } from 'vitest';
import { studyOrders } from '@/lib/study/orders';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import type { DemoRun, DemoStudy } from '@/prisma/demo/world/types';

const world = generateDemoWorld({ seed: 20_261_031 });

/** The runs that a study takes in as they are sent, by what the registry goes by. */
function runsThatJoin(study: DemoStudy): DemoRun[] {
  const owner = world.cars.find(({ key }) => key === study.carKey)?.ownerKey ?? '';
  const since = new Map([
    [owner, study.plannedAt],
    ...study.joined.map(({ testerKey, at }) => [testerKey, at] as const),
  ]);
  return world.runs.filter((run) => {
    const sentAt = run.revisions[0]?.submittedAt;
    const from = since.get(run.testerKey);
    return (
      sentAt !== undefined &&
      from !== undefined &&
      sentAt >= from &&
      sentAt <= (study.ended?.at ?? '9') &&
      run.loopKey === study.loopKey &&
      run.cruiseClassKey === study.cruiseClassKey &&
      [study.baselineKey, ...study.otherKeys].includes(run.setupKey)
    );
  });
}

const ordersOf = (study: DemoStudy) =>
  studyOrders({
    baselineId: study.baselineKey,
    otherIds: study.otherKeys,
    runsADay: study.runsADay,
    days: study.days,
    seed: study.seed,
  }).days;

describe('the studies of the demo world', () => {
  it('are two that were finished, one that runs and one that was given up', () => {
    expect(world.studies.map(({ ended }) => ended?.kind).sort()).toEqual([
      'abandon',
      'complete',
      'complete',
      undefined,
    ]);
  });

  it('take in the runs of the days that they name, and none by chance', () => {
    for (const study of world.studies) {
      const days = [...new Set(runsThatJoin(study).map(({ sessionKey }) => sessionKey))];
      expect(days.sort(), study.key).toEqual([...study.sessionKeys].sort());
    }
  });

  it('end after all of their runs were decided on', () => {
    for (const study of world.studies) {
      if (study.ended === undefined) continue;
      for (const run of runsThatJoin(study)) {
        expect((run.revisions.at(-1)?.review?.decidedAt ?? '9') < study.ended.at, run.key).toBe(true);
      }
    }
  });

  it('have one that was driven exactly as planned, and others that left their plan', () => {
    const asPlanned = world.studies.filter((study) => {
      const driven = study.sessionKeys.map((key) =>
        runsThatJoin(study)
          .filter(({ sessionKey }) => sessionKey === key)
          .map(({ setupKey }) => setupKey),
      );
      return JSON.stringify(driven) === JSON.stringify(ordersOf(study));
    });
    expect(asPlanned.map(({ key }) => key)).toEqual(['low at 130']);
  });

  it('that were asked for come after the request, and others stay open with more or fewer voices', () => {
    const taken = new Map(world.studies.map(({ requestKey, plannedAt }) => [requestKey, plannedAt]));
    for (const { key, askedAt, askedBy, voices } of world.requests) {
      expect(askedAt < (taken.get(key) ?? '9'), key).toBe(true);
      const people = [askedBy, ...voices.map(({ personKey }) => personKey)];
      expect(new Set(people).size, key).toBe(people.length);
      for (const { at } of voices) expect(askedAt < at, key).toBe(true);
    }
    const open = world.requests.filter(({ key }) => !taken.has(key));
    expect(new Set(open.map(({ voices }) => voices.length)).size).toBe(3);
    expect(world.requests.length - open.length).toBe(2);
  });

  it('are guessed at while they run, once a person, by nobody who drives in them', () => {
    for (const { key, guesses, begunAt, ended, joined, carKey } of world.studies) {
      const owner = world.cars.find((car) => car.key === carKey)?.ownerKey;
      const drivers = [owner, ...joined.map(({ testerKey }) => testerKey)];
      const people = guesses.map(({ personKey }) => personKey);
      expect(guesses.length, key).toBeGreaterThan(2);
      expect(new Set(people).size, key).toBe(people.length);
      expect(people.filter((person) => drivers.includes(person))).toEqual([]);
      for (const { at } of guesses) expect(at > begunAt && at < (ended?.at ?? '9'), key).toBe(true);
    }
  });

  it('are left out of a world in which their days were not driven', () => {
    expect(generateDemoWorld({ seed: 20_261_031, scale: 'small' }).studies).toEqual([]);
  });
});
