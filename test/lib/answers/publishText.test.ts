import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AnswerNumbers, answerOf } from '@/lib/answers/answer';
import {
  MOST_CHARACTERS,
  PUBLISHED_CAUTION,
  type PublishNumbers,
  publishText,
} from '@/lib/answers/publishText';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

const differenceOf = (low: number, high: number): AnswerNumbers => ({
  percent: (low + high) / 2,
  pointwise: [low, high],
  ofModel: [low, high],
  simultaneous: [low, high],
  word: low > 0 || high < 0 ? 'probable' : 'undecided',
  restsOnOne: false,
  connection: 'driven in the same sessions',
  refusal: null,
  isAssumed: false,
  moreSessions: null,
  detectablePercent: null,
  sideBySide: { total: 4, lower: 4 },
});
const answered = (setup: string, numbers: AnswerNumbers) => ({
  setup,
  answer: answerOf(numbers, { setup, baseline: 'As delivered' }, DEFAULT_PREFERENCES),
});
const LINK = 'https://registry.example/studies/does-the-low-ride-height-use-less';
const COUNTS = '16 runs on 4 days count, of 16 runs on 4 days that were planned.';
const of = (changes: Partial<PublishNumbers> = {}) =>
  publishText({
    question: 'Does the low ride height use less?',
    answers: [answered('Ride height: low', differenceOf(-3, -1))],
    counts: COUNTS,
    further: ['It holds for 1 car on North causeway at 110 km/h: other cars, roads and speeds may differ.'],
    link: LINK,
    isDemo: false,
    ...changes,
  });

describe('the text under a video', () => {
  it('says the question, the answer with its interval, the counts, the caution and the address', () => {
    expect(of()).toBe(
      `Does the low ride height use less?

“Low ride height” probably uses 2.0 % less than the car as delivered (1.0 to 3.0 %), lower on 4 of 4 days on which both were driven.

16 runs on 4 days count, of 16 runs on 4 days that were planned. It holds for 1 car on North causeway at 110 km/h: other cars, roads and speeds may differ.

${PUBLISHED_CAUTION}

${LINK}`,
    );
    expect(of({ isDemo: true })).toContain('Demo world: invented data.');
  });

  it('leaves out what is least needed first, and says how many answers it left out', () => {
    const many = Array.from({ length: 23 }, (_, i) =>
      answered(`Ride height: low · Tyres: number ${i + 1}`, differenceOf(-3 - i, -1)),
    );
    const text = of({ answers: many }) ?? '';
    const [, , , left] = /\n((and (\d+)) more at the address below)\n/.exec(text) ?? [];
    const lines = text.match(/^Ride height: low.*: probably .* \(.* to .*\)$/gm) ?? [];
    expect(lines.length + Number(left)).toBe(23);
    expect(lines.length).toBeGreaterThan(4);
    expect(text).not.toContain('It holds for 1 car');
    expect(text).toContain('Does the low ride height');
  });

  it('says that there is no interval where there is none', () => {
    const none = { ...differenceOf(-3, -1), percent: null, word: null, refusal: 'No day with both.' };
    expect(of({ answers: [answered('Ride height: low', none)] })).toContain(
      'cannot be compared yet. No day with both.',
    );
  });

  it('is nothing where no answer would fit beside the address', () => {
    expect(of({ link: `https://registry.example/${'a'.repeat(850)}` })).toBeUndefined();
  });

  it('has at most 900 characters, and never without an interval, the counts, the address and the caution', () => {
    const end = fc.integer({ min: -300, max: 300 }).map((step) => step / 10);
    const name = fc.string({ minLength: 1, maxLength: 200, unit: 'grapheme' });
    const answer = fc.record({ setup: name, a: end, b: end }).filter(({ a, b }) => a !== b);
    fc.assert(
      fc.property(
        fc.record({
          question: fc.string({ maxLength: 1200, unit: 'grapheme' }),
          named: fc.array(answer, { minLength: 1, maxLength: 24 }),
          further: fc.array(fc.string({ maxLength: 400 }), { maxLength: 6 }),
          link: fc.integer({ min: 1, max: 400 }).map((length) => `https://a.example/${'b'.repeat(length)}`),
          isDemo: fc.boolean(),
        }),
        ({ named, ...rest }) => {
          const answers = named.map(({ setup, a, b }) =>
            answered(setup, differenceOf(Math.min(a, b), Math.max(a, b))),
          );
          const text = publishText({ ...rest, answers, counts: COUNTS }) ?? '';
          expect(text.length).toBeLessThanOrEqual(MOST_CHARACTERS);
          for (const needed of [COUNTS, PUBLISHED_CAUTION, rest.link]) expect(text).toContain(needed);
          const [first] = answers;
          const isWhole = first && text.includes(first.answer.sentence.trim());
          expect(isWhole || (first && text.includes(first.answer.line))).toBe(true);
          expect(first?.answer.line).toMatch(/\d.* to .*\d/);
          // A direction is only ever said with an interval that leaves nothing out.
          if (named.every(({ a, b }) => a * b < 0)) expect(text).not.toMatch(/probably (uses|[\d.]+ %)/);
        },
      ),
      { seed: 15, numRuns: 300 },
    );
  });
});
