import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AnswerNumbers, answerOf, bySureness, resultText, shortAnswer } from '@/lib/answers/answer';
import { wordFor } from '@/lib/stats/evidence';
import { earnedInterval } from '@/lib/stats/statedDifference';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';

const plain: Display = DEFAULT_PREFERENCES;
const further: Display = { ...plain, consumption: 'mi/kWh', mark: 'comma' };
const question = { setup: 'Ride height: low', baseline: 'As delivered' };

const settled: AnswerNumbers = {
  percent: -3.14,
  pointwise: [-4.1, -2.2],
  ofModel: [-4.5, -1.8],
  simultaneous: [-5, -1.25],
  word: 'settled',
  restsOnOne: false,
  connection: 'shared session',
  refusal: null,
  isAssumed: false,
  moreSessions: null,
  detectablePercent: 1.4,
  sideBySide: { total: 4, lower: 4 },
};
const probable: AnswerNumbers = { ...settled, word: 'probable', simultaneous: [-6.4, 0.1], moreSessions: 5 };
const leaning: AnswerNumbers = { ...probable, word: 'leaning', ofModel: [-6.2, 0.05] };
const undecided: AnswerNumbers = { ...leaning, word: 'undecided', percent: -1.3, pointwise: [-2.9, 0.4] };

const cases: [string, AnswerNumbers, string, string][] = [
  [
    'settled',
    settled,
    '“Low ride height” uses 3.1 % less than the car as delivered (1.3 to 5.0 %), lower on 4 of 4 days on which both were driven.',
    '',
  ],
  [
    'settled the other way',
    { ...settled, percent: 3.14, simultaneous: [1, 5], sideBySide: { total: 4, lower: 1 } },
    '“Low ride height” uses 3.1 % more than the car as delivered (1.0 to 5.0 %), higher on 3 of 4 days on which both were driven.',
    '',
  ],
  [
    'probable',
    probable,
    '“Low ride height” probably uses 3.1 % less than the car as delivered (1.8 to 4.5 %), lower on 4 of 4 days on which both were driven.',
    'About 5 more sessions of both would settle it, if it is as large as it looks.',
  ],
  [
    'leaning',
    leaning,
    '“Low ride height” may use 3.1 % less than the car as delivered (2.2 to 4.1 %), lower on 4 of 4 days on which both were driven: a lead, not yet a finding.',
    'About 5 more sessions of both would settle it, if it is as large as it looks.',
  ],
  [
    'undecided, worth going on',
    undecided,
    '“Low ride height” and the car as delivered cannot be told apart yet: the difference may be anything from 2.9 % less to 0.4 % more.',
    'If it is as large as it looks, about 5 more sessions of both would settle it.',
  ],
  [
    'undecided, out of reach',
    { ...undecided, moreSessions: null },
    '“Low ride height” and the car as delivered cannot be told apart yet: the difference may be anything from 2.9 % less to 0.4 % more.',
    'A difference of 1.4 % would probably have shown.',
  ],
  [
    'contrary days',
    { ...leaning, sideBySide: { total: 4, lower: 1 }, moreSessions: 1 },
    '“Low ride height” may use 3.1 % less than the car as delivered (2.2 to 4.1 %), though lower on only 1 of 4 days on which both were driven: a lead, not yet a finding.',
    'About 1 more session of both would settle it, if it is as large as it looks.',
  ],
  [
    'never driven side by side',
    { ...settled, sideBySide: { total: 0, lower: 0 } },
    '“Low ride height” uses 3.1 % less than the car as delivered (1.3 to 5.0 %).',
    '',
  ],
  [
    'resting on one tester',
    { ...settled, word: 'probable', restsOnOne: true, isDrivenByOne: true },
    '“Low ride height” probably uses 3.1 % less than the car as delivered (1.8 to 4.5 %), lower on 4 of 4 days on which both were driven.',
    'It rests on one tester: sessions by another would show whether it holds.',
  ],
  [
    'repeatability assumed',
    { ...undecided, isAssumed: true, moreSessions: null, detectablePercent: null },
    '“Low ride height” and the car as delivered cannot be told apart yet: the difference may be anything from 2.9 % less to 0.4 % more. How well runs repeat is partly assumed, because few have been driven yet.',
    '',
  ],
  [
    'too little',
    {
      ...settled,
      word: null,
      pointwise: null,
      ofModel: null,
      simultaneous: null,
      refusal: 'Too few sessions stand behind this pair for an interval that could be relied on.',
    },
    'Too little has been driven to say how “Low ride height” differs from the car as delivered. Too few sessions stand behind this pair for an interval that could be relied on.',
    '',
  ],
  [
    'refused',
    {
      ...settled,
      percent: null,
      word: null,
      pointwise: null,
      ofModel: null,
      simultaneous: null,
      refusal: 'No car has driven both.',
    },
    '“Low ride height” and the car as delivered cannot be compared yet. No car has driven both.',
    '',
  ],
];

describe('the answer to a question', () => {
  it.each(cases)('%s', (_, numbers, sentence, next) => {
    const answer = answerOf(numbers, question, plain);
    expect(answer.sentence).toBe(sentence);
    expect(answer.next).toBe(next);
    expect(answer.word).toBe(numbers.word ?? 'no answer yet');
  });

  it('turns words, sizes, ends and mark with a unit of distance per energy', () => {
    // 1/0.9686 = 1.03242, 1/0.9875 = 1.01266, 1/0.95 = 1.05263
    expect(answerOf(settled, question, further).sentence).toBe(
      '“Low ride height” goes 3,2 % further per kWh than the car as delivered (1,3 to 5,3 %), further per kWh on 4 of 4 days on which both were driven.',
    );
    // 1/1.004 = 0.99602, 1/0.971 = 1.02987
    expect(answerOf(undecided, question, further).sentence).toContain(
      'from 3,0 % further per kWh to 0,4 % less far per kWh',
    );
  });

  it('never says an end that leaves nothing out to be nothing', () => {
    expect(shortAnswer({ ...leaning, pointwise: [-6, -0.04] }, plain)).toBe(
      'perhaps 3.14 % less (0.04 to 6.00)',
    );
  });

  it('says the same in a line of a list', () => {
    expect(shortAnswer(settled, plain)).toBe('3.1 % less (1.3 to 5.0)');
    expect(shortAnswer(probable, plain)).toBe('probably 3.1 % less (1.8 to 4.5)');
    expect(shortAnswer(undecided, plain)).toBe('undecided: from 2.9 % less to 0.4 % more');
    // the word stands beside it there
    expect(answerOf(undecided, question, plain).line).toBe('anything from 2.9 % less to 0.4 % more');
    expect(resultText({ word: null, restsOnOne: false })).toBe('no interval');
  });

  it.each([
    [true, 'rests on one tester'],
    [false, 'rests mainly on one tester'],
  ])(
    'gives one reason beside the word and in the sentence: driven by one alone %s',
    (isDrivenByOne, words) => {
      const numbers: AnswerNumbers = { ...probable, restsOnOne: true, isDrivenByOne };
      expect(resultText(numbers)).toBe(`probable, ${words}`);
      expect(answerOf(numbers, question, plain).next).toBe(
        `It ${words}: sessions by another would show whether it holds.`,
      );
    },
  );

  it('puts the surest first: of two of one word the one that its interval is the smaller part of', () => {
    const larger = { ...leaning, percent: 9 };
    const smallerAndNarrower: AnswerNumbers = { ...settled, percent: -2, pointwise: [-2.2, -1.8] };
    expect([settled, smallerAndNarrower].sort(bySureness)).toEqual([smallerAndNarrower, settled]);
    expect(
      [{ ...settled, percent: null }, { ...settled, pointwise: null }, settled].sort(bySureness)[0],
    ).toBe(settled);
    expect([undecided, leaning, larger, settled, probable].sort(bySureness)).toEqual([
      settled,
      probable,
      larger,
      leaning,
      undecided,
    ]);
  });
});

/** Any pair as a fit may give it: three nested intervals about an estimate and the word that they earn. */
const anyPair: fc.Arbitrary<AnswerNumbers> = fc
  .record({
    percent: fc.double({ min: -30, max: 30, noNaN: true }),
    half: fc.double({ min: 0.01, max: 20, noNaN: true }),
    wider: fc.double({ min: 1, max: 2, noNaN: true }),
    widest: fc.double({ min: 1, max: 2, noNaN: true }),
    acrossModels: fc.boolean(),
    isAssumed: fc.boolean(),
    moreSessions: fc.option(fc.integer({ min: 1, max: 40 })),
    total: fc.integer({ min: 0, max: 50 }),
    lower: fc.nat({ max: 50 }),
  })
  // A fit gives ratios, which are above zero: no end of an interval is 100 % less.
  .filter(({ percent, half, wider, widest }) => percent - half * wider * widest > -100)
  .map(({ percent, half, wider, widest, acrossModels, isAssumed, moreSessions, total, lower }) => {
    const around = (by: number): [number, number] => [percent - by, percent + by];
    const pointwise = around(half);
    const ofModel = acrossModels ? null : around(half * wider);
    const simultaneous = around(half * wider * widest);
    return {
      ...settled,
      percent,
      pointwise,
      ofModel,
      simultaneous,
      word: wordFor(pointwise, ofModel, simultaneous),
      isAssumed,
      moreSessions,
      sideBySide: { total, lower: Math.min(lower, total) },
    };
  });

describe('no sentence claims more than its interval', () => {
  it('says a direction only where the pair’s own interval leaves no difference out', () => {
    fc.assert(
      fc.property(anyPair, (numbers) => {
        const { sentence } = answerOf(numbers, question, plain);
        const [low, high] = numbers.pointwise as [number, number];
        const claims = /uses? [\d.]+ % (less|more) than/.exec(sentence)?.[1];
        if (claims === 'less') expect(high).toBeLessThan(0);
        if (claims === 'more') expect(low).toBeGreaterThan(0);
        expect(claims === undefined).toBe(low <= 0 && high >= 0);
        expect(sentence.includes('cannot be told apart')).toBe(claims === undefined);
      }),
    );
  });

  it('hedges unless the interval for all pairs leaves it out', () => {
    fc.assert(
      fc.property(anyPair, (numbers) => {
        const { sentence } = answerOf(numbers, question, plain);
        const [low, high] = numbers.simultaneous as [number, number];
        const isPlain = / uses /.test(sentence) && !/probably/.test(sentence);
        expect(isPlain).toBe(low > 0 || high < 0);
      }),
    );
  });

  it('orders two pairs alike from either side of them', () => {
    const turned = (pair: AnswerNumbers): AnswerNumbers => {
      const other = (percent: number) => 100 * (1 / (1 + percent / 100) - 1);
      const [low, high] = pair.pointwise as [number, number];
      return { ...pair, percent: other(pair.percent ?? 0), pointwise: [other(high), other(low)] };
    };
    fc.assert(
      fc.property(anyPair, anyPair, (a, b) => {
        expect(bySureness(turned(a), turned(b))).toBeCloseTo(bySureness(a, b), 6);
      }),
    );
  });

  it('says the same direction in every unit and never an end of nothing', () => {
    const wide = { ...settled, percent: -18, pointwise: [-33, -2], simultaneous: [-80, 44] } as const;
    const leaning = { ...wide, ofModel: null, word: 'leaning' } as unknown as AnswerNumbers;
    expect(shortAnswer(leaning, plain)).toBe('perhaps 18 % less (2 to 33)');
    fc.assert(
      fc.property(anyPair, (numbers) => {
        const less = / less than /.test(answerOf(numbers, question, plain).sentence);
        const turned = answerOf(numbers, question, further).sentence;
        if (less) expect(turned).toMatch(/ further per kWh than /);
        if (numbers.word !== 'undecided') {
          const least = Math.min(...(earnedInterval(numbers) ?? [0]).map(Math.abs));
          if (least > 0.01) expect(shortAnswer(numbers, plain)).not.toMatch(/\(0(\.0+)? to/);
        }
      }),
    );
  });
});
