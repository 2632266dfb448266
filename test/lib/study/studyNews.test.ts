import { describe, expect, it } from 'vitest';
import { isNews, listenersBut, newsWords, runNewsWords, type StudyNews } from '@/lib/study/studyNews';

const QUESTION = 'Does the low ride height use less?';

describe('who is told of a study', () => {
  it('is each who drives, asked or guessed, once, by what ties them closest, but for whoever did it', () => {
    const told = listenersBut('owner', {
      testers: ['owner', 'drives', 'drives and asked'],
      backers: ['asked', 'drives and asked', 'asked and guessed', 'owner'],
      guessers: ['guessed', 'asked and guessed', 'drives', 'owner'],
    });
    expect(Object.fromEntries(told)).toEqual({
      drives: 'tester',
      'drives and asked': 'tester',
      asked: 'backer',
      'asked and guessed': 'backer',
      guessed: 'guesser',
    });
  });

  it('is nobody where a draft is given up, as nobody was told of it', () => {
    expect(isNews('abandon', true)).toBe(false);
    expect(isNews('abandon', false)).toBe(true);
    expect(isNews('begin', true)).toBe(true);
  });
});

describe('what they are told', () => {
  const begin: StudyNews = { event: 'begin', isOneMore: false };
  const abandon: StudyNews = { event: 'abandon', reason: 'The road is closed.', isAskedAgain: true };

  it.each([
    [
      'backer',
      begin,
      '“Does the low ride height use less?”, which you asked for, is being driven. You can say what you expect.',
    ],
    ['backer', { ...begin, isOneMore: true }, /is being driven in one more study\./],
    ['tester', begin, /in which you drive, has begun: its plan is fixed\.$/],
    ['tester', { event: 'complete' }, /was driven to its end\. See what came out\.$/],
    ['guesser', { event: 'complete' }, /on which you guessed, .* and how near your guess was\.$/],
    ['backer', abandon, /which you asked for, is open again: its study was given up\. The road is closed\.$/],
    ['backer', { ...abandon, isAskedAgain: false }, /which you asked for, was given up\. The road/],
    ['guesser', abandon, /on which you guessed, was given up\. The road is closed\.$/],
    [
      'tester',
      { event: 'replan', version: 2, reason: 'One day more.' },
      /has a new version of its plan, number 2\. One day more\.$/,
    ],
  ] as const)('as %s: %j', (listener, news, words) => {
    const said = newsWords(listener, QUESTION, news);
    if (typeof words === 'string') expect(said).toBe(words);
    else expect(said).toMatch(words);
  });

  it('of runs is said in the singular and the plural', () => {
    expect(runNewsWords(QUESTION, 'askChanges', [12])).toBe(
      'Run 12 of your study “Does the low ride height use less?” was sent back for changes.',
    );
    expect(runNewsWords(QUESTION, 'retract', [12, 13])).toMatch(/^2 runs of your study .* were retracted\.$/);
  });
});
