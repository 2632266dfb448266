import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { numbersOf, type StudyNumbers, studyParagraph } from '@/lib/answers/studyParagraph';
import type { ContrastStanding } from '@/lib/study/standing';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

const contrast = (difference: number | null, interval: [number, number] | null): ContrastStanding => ({
  setupId: 'b',
  looks: [],
  running: null,
  planned: null,
  shown: difference === null ? null : { difference, interval, level: 'runs' },
  sessions: 3,
  lower: 3,
  runs: 12,
  cars: 1,
  testers: 1,
  moreDays: null,
});
const numbers = (one: ContrastStanding, changes: Partial<StudyNumbers> = {}): StudyNumbers => ({
  standing: { contrasts: [one], which: 'running', why: 'It is still running.', alpha: 0.05 },
  titles: new Map([['b', 'Ride height: low']]),
  baselineTitle: 'As delivered',
  planned: { runs: 16, days: 4 },
  counted: { runs: 12, days: 3 },
  deviating: 0,
  waiting: 0,
  loopName: 'North causeway',
  classLabel: '110 km/h',
  ...changes,
});
const of = (one: ContrastStanding, changes: Partial<StudyNumbers> = {}) =>
  studyParagraph(numbers(one, changes), DEFAULT_PREFERENCES);

describe('what a study says of itself', () => {
  it('names a direction with the interval that leaves no difference out', () => {
    const { answers, driven, cannot } = of(contrast(Math.log(0.98), [Math.log(0.97), Math.log(0.99)]));
    expect(answers[0]?.answer.sentence).toBe(
      '“Low ride height” probably uses 2.0 % less than the car as delivered (1.0 to 3.0 %), lower on 3 of 3 days on which both were driven.',
    );
    expect(driven).toBe('12 runs on 3 days count, of 16 runs on 4 days that were planned.');
    expect(cannot).toEqual([
      'It holds for 1 car on North causeway at 110 km/h: other cars, roads and speeds may differ.',
      'All of it was driven by one tester: another would show whether it holds.',
    ]);
  });

  it('says that two cannot be told apart, and that this is not equality', () => {
    const { answers, cannot } = of(contrast(-0.01, [-0.03, 0.01]));
    expect(answers[0]?.answer.word).toBe('undecided');
    expect(answers[0]?.answer.sentence).toMatch(/cannot be told apart yet.*from 3\.0 % less to 1\.0 % more/);
    expect(cannot).toContain('That the two cannot be told apart does not mean that they are equal.');
  });

  it('says nothing of a difference without an interval, or without a day of both', () => {
    for (const one of [contrast(-0.05, null), contrast(null, null)]) {
      const { answers } = of(one);
      expect(answers[0]?.answer.word).toBe('no answer yet');
      expect(answers[0]?.answer.sentence).not.toMatch(/less|more than/);
    }
    expect(of(contrast(null, null), { counted: { runs: 0, days: 0 } }).driven).toBe(
      'Planned are 16 runs on 4 days; none counts yet.',
    );
  });

  it('says what left the plan and what still waits', () => {
    const { cannot } = of(contrast(-0.05, [-0.06, -0.04]), { deviating: 1, waiting: 2 });
    expect(cannot.slice(-2)).toEqual([
      '1 run did not follow the plan and is marked.',
      '2 runs still wait for review and may change it.',
    ]);
  });

  it('never says more than the interval: a direction is named only where it leaves 0 out', () => {
    // in steps of a thousandth, as no study tells more
    const log = fc.integer({ min: -200, max: 200 }).map((step) => step / 1000);
    fc.assert(
      fc.property(log, log, (a, b) => {
        fc.pre(a !== b);
        const [low, high] = [Math.min(a, b), Math.max(a, b)] as [number, number];
        const one = contrast((low + high) / 2, [low, high]);
        const { word } = numbersOf(one);
        const { sentence } = of(one).answers[0]?.answer ?? { sentence: '' };
        const isOneSided = low > 0 || high < 0;
        expect(word).toBe(isOneSided ? 'probable' : 'undecided');
        expect(/uses [^ ]+ % (less|more)/.test(sentence)).toBe(isOneSided);
        if (isOneSided) expect(sentence).toContain(high < 0 ? '% less' : '% more');
      }),
      { seed: 9 },
    );
  });
});
