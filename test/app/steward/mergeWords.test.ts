import { expect, it } from 'vitest';
import { mergeSentences } from '@/app/(steward)/curate/mergeWords';

const from = { key: 'a', words: 'Skerry' };
const into = { key: 'b', words: 'Skerry long' };

it('says of a merge what would move, one as one and many as many', () => {
  const said = mergeSentences({
    from,
    into,
    runs: 1,
    counted: 1,
    classes: ['70 mph'],
    cars: 1,
    studies: 2,
    levels: { joined: ['normal', 'low'], moved: ['high'] },
    setups: { joined: ['As delivered'], moved: [] },
    refusal: undefined,
  }).join(' ');
  expect(said).toContain('1 run of Skerry would be of Skerry long, 1 of them counting.');
  expect(said).toContain('With it: 1 car and 2 studies.');
  expect(said).toContain('2 levels would be one that Skerry long has: “normal”, “low”.');
  expect(said).toContain('1 setup would become the same as one that is there');
  expect(said).toContain('Fitted again: 70 mph.');
});

it('says that a vehicle of two testers makes them one', () => {
  const said = mergeSentences({
    from,
    into,
    runs: 4,
    counted: 3,
    sessions: 2,
    joined: 1,
    classes: [],
    owners: ['Mira', 'Jonas'],
    refusal: undefined,
  }).join(' ');
  expect(said).toContain('on 2 days, 1 of which Skerry long knows as well');
  expect(said).toContain('Mira’s and Jonas’s');
  expect(said).toContain('No class is fitted again.');
});
