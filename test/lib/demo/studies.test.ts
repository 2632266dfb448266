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

  it('are left out of a world in which their days were not driven', () => {
    expect(generateDemoWorld({ seed: 20_261_031, scale: 'small' }).studies).toEqual([]);
  });
});
