import { array, assert, constantFrom, integer, property, record } from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drivenSessions } from '@/lib/study/driven';
import {
  isOfStudy,
  nextToDrive,
  type PlacedRun,
  planWords,
  type StudyToDrive,
  studyOf,
} from '@/lib/study/nextToDrive';
import { planOf } from './plans';

const study: StudyToDrive = {
  studyId: 's',
  slug: 'low',
  question: 'Does the low ride height use less?',
  loopId: 'loop',
  cruiseClassKey: 'kmh-110',
  carIds: ['car', 'second'],
  setups: [
    { id: 'a', title: 'as delivered', letter: 'A' },
    { id: 'b', title: 'ride height low', letter: 'B' },
  ],
  days: planOf(2).days,
  runs: [],
};
const run = (number: number, setupId: string, day = '2026-10-01', carId = 'car'): PlacedRun => ({
  number,
  setupId,
  day,
  carId,
});
const here = (runs: { number?: number; setupId: string }[] = [], day = '2026-10-01', carId = 'car') => ({
  day,
  carId,
  runs,
});

describe('what the plan has next', () => {
  it('begins with the first of the first day', () => {
    expect(nextToDrive(study, here())).toMatchObject({ place: 0, driven: [], setupId: 'a' });
  });

  it('goes on within the day, and counts what page and server know of once', () => {
    const sent = { ...study, runs: [run(1, 'a'), run(2, 'b')] };
    expect(nextToDrive(sent, here()).setupId).toBe('b');
    const page = here([{ number: 1, setupId: 'a' }, { number: 2, setupId: 'b' }, { setupId: 'b' }]);
    expect(nextToDrive(sent, page)).toMatchObject({ driven: ['a', 'b', 'b'], setupId: 'a' });
  });

  it('does not go on with an earlier day that was broken off, nor with that of another car', () => {
    const broken = { ...study, runs: [run(1, 'a', '2026-09-20')] };
    expect(nextToDrive(broken, here())).toMatchObject({ place: 1, driven: [], setupId: 'a' });
    const others = { ...study, runs: [run(1, 'a', '2026-10-01', 'of another tester')] };
    expect(nextToDrive(others, here())).toMatchObject({ place: 1, driven: [] });
  });

  it('has nothing after the last of the day, and nothing after the last day', () => {
    const day = here(['a', 'b', 'b', 'a'].map((setupId) => ({ setupId })));
    expect(nextToDrive(study, day)).toMatchObject({ place: 0, setupId: null });
    expect(planWords(study, nextToDrive(study, day))).toMatch(/It is driven/);
    const over = { ...study, runs: [run(1, 'a', '2026-09-01'), run(2, 'a', '2026-09-08')] };
    expect(nextToDrive(over, here())).toMatchObject({ planned: [], setupId: null });
    expect(planWords(over, nextToDrive(over, here()))).toMatch(/^All 2 days of the plan are driven/);
  });

  it('says where the day stands, and that it left the order', () => {
    const words = planWords(study, nextToDrive(study, here([{ setupId: 'a' }])));
    expect(words).toBe('Day 1 of 2, in the order A B B A. Next is run 2: B, ride height low.');
    const left = planWords(study, nextToDrive(study, here([{ setupId: 'b' }])));
    expect(left).toMatch(/left that order: it stays, marked\. Next is run 2: B/);
  });

  it('follows the order by which runs are marked afterwards: whoever drives what is next is never marked', () => {
    const days = ['2026-10-01', '2026-10-02'] as const;
    assert(
      property(
        array(record({ day: constantFrom(...days), car: constantFrom('car', 'second') }), { maxLength: 24 }),
        integer({ min: 1, max: 4 }),
        (drives, size) => {
          const plan = planOf(4, { days: planOf(4).days.map((order) => order.slice(0, size)) });
          // One after the other, as time goes: a car at a time, a day at a time.
          const runs: PlacedRun[] = [];
          const inOrder = drives.toSorted((x, y) => `${x.day} ${x.car}`.localeCompare(`${y.day} ${y.car}`));
          for (const { day, car } of inOrder) {
            const { setupId } = nextToDrive({ days: plan.days, runs }, { day, carId: car, runs: [] });
            if (setupId !== null) runs.push({ number: runs.length + 1, day, carId: car, setupId });
          }
          const sessions = drivenSessions(
            plan,
            runs.map((one) => ({
              ...one,
              loopId: plan.loopId,
              cruiseClassKey: plan.cruiseClassKey,
              sessionId: `${one.day} ${one.carId}`,
              startedAt: `${one.day}T${String(one.number).padStart(2, '0')}:00:00Z`,
              isBeforePlan: false,
            })),
          );
          return sessions.every((session) => session.runs.every(({ deviations }) => deviations.length === 0));
        },
      ),
    );
  });
});

describe('the study that a run belongs to', () => {
  const of = { carId: 'car', loopId: 'loop', cruiseClassKey: 'kmh-110' };

  it('goes by car, loop and class, and by the setup where one is chosen', () => {
    expect(isOfStudy(study, of)).toBe(true);
    expect(studyOf([study], of)).toBe(study);
    expect(studyOf([study], { ...of, setupId: 'b' })).toBe(study);
    expect(studyOf([study], { ...of, setupId: 'another' })).toBeUndefined();
    for (const other of [{ carId: 'x' }, { loopId: 'x' }, { cruiseClassKey: 'kmh-90' }, { carId: undefined }])
      expect(studyOf([study], { ...of, ...other })).toBeUndefined();
  });

  it('is of several the one whose button began it, as long as it fits, else the earliest', () => {
    const later = { ...study, studyId: 'later', setups: study.setups.slice(0, 1) };
    const [shared, own] = study.setups.map(({ id }) => id);
    const begun = (studyId: string, setupId = shared) =>
      studyOf([study, later], { ...of, setupId, begunForStudyId: studyId });
    expect(begun('later')).toBe(later);
    expect(begun('later', own)).toBe(study);
    expect(begun('of another tester')).toBe(study);
    expect(studyOf([study, later], of)).toBe(study);
  });
});
