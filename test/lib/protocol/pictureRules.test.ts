import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PictureNeighbour } from '@/lib/protocol/facts';
import { findingOf, GOOD_RUN, outcomeOf, photoAt, withRecord } from './exampleFacts';

const plain = (text: string) => text.replaceAll('\u202F', ' ');
const another: PictureNeighbour = { runNumber: 12, isOwn: false, isSame: true, differingBits: 0 };
const own: PictureNeighbour = { runNumber: 7, isOwn: true, isSame: true, differingBits: 0 };
const alike = (differingBits: number, isOwn = false): PictureNeighbour => ({
  runNumber: 31,
  isOwn,
  isSame: false,
  differingBits,
});
const beside = (...pictures: PictureNeighbour[]) => ({ ...GOOD_RUN, pictures });

describe('pictures of other runs', () => {
  it('fail where the same one is on a run of another tester, and are a caution on one’s own', () => {
    expect(findingOf('same-picture', beside(own, another))).toMatchObject({
      outcome: 'fail',
      numbers: [
        { name: 'Same picture as on run', value: 12, unit: '' },
        { name: 'Same picture as on run', value: 7, unit: '' },
      ],
      sentence:
        'Same picture as on run 12 of another tester, run 7 of the same tester. The protocol does not accept this. Attach photos of this drive.',
    });
    expect(outcomeOf('same-picture', beside(own))).toBe('caution');
    expect(outcomeOf('same-picture', beside(alike(0)))).toBe('pass');
  });

  it.each([
    [0, 'caution'],
    [7, 'caution'],
    [8, 'pass'],
  ] as const)('that differ in %s bits are a %s', (bits, outcome) => {
    for (const isOwn of [false, true])
      expect(outcomeOf('nearly-same-picture', beside(alike(bits, isOwn)))).toBe(outcome);
    expect(outcomeOf('nearly-same-picture', beside(another))).toBe('pass');
  });

  it('are told run by run, once each, and no more than a reader can take in', () => {
    const many = Array.from({ length: 9 }, (_, index) => ({ ...another, runNumber: 20 - (index % 8) }));
    const { numbers, sentence } = findingOf('same-picture', beside(...many));
    expect(numbers.map(({ value }) => value)).toEqual([13, 14, 15, 16, 17]);
    expect(sentence).toContain('run 17 of another tester, 3 more.');
  });

  it('say the same in whatever order they were found', () => {
    const neighbour = fc.record({
      runNumber: fc.integer({ min: 1, max: 9 }),
      isOwn: fc.boolean(),
      isSame: fc.boolean(),
      differingBits: fc.integer({ min: 0, max: 9 }),
    });
    // One run is of one tester, and the same file differs in nothing.
    const real = (all: PictureNeighbour[]) =>
      all.map((each) => ({
        ...each,
        isOwn: each.runNumber % 2 === 0,
        differingBits: each.isSame ? 0 : each.differingBits,
      }));
    fc.assert(
      fc.property(fc.array(neighbour, { maxLength: 12 }), (all) => {
        for (const id of ['same-picture', 'nearly-same-picture']) {
          const there = findingOf(id, beside(...real(all)));
          expect(findingOf(id, beside(...real(all).reverse()))).toEqual(there);
        }
      }),
      { numRuns: 25 },
    );
  });
});

describe('the time of a photo', () => {
  // The run starts at 07:30 UTC and takes 62 minutes: from 07:00 to 11:32 UTC is within.
  it.each([
    ['06:59:59', 'caution'],
    ['07:00:00', 'pass'],
    ['11:32:00', 'pass'],
    ['11:32:01', 'caution'],
  ] as const)('%s UTC is %s', (time, outcome) => {
    expect(outcomeOf('photo-time', photoAt(`2031-05-04T${time}Z`, 120))).toBe(outcome);
  });

  it('is said with its side and its limit', () => {
    const early = findingOf('photo-time', photoAt('2031-05-03T07:30:00Z', 0));
    expect(plain(early.sentence)).toMatch(
      /^A photo was taken 24\.0 h before the start; up to 0\.5 h is within/,
    );
    expect(early.numbers).toEqual([{ name: 'Photo before the start', value: 24, unit: 'h', limit: 0.5 }]);
    const late = findingOf('photo-time', photoAt('2031-05-04T18:32:00Z', 0));
    expect(plain(late.sentence)).toMatch(/^A photo was taken 10\.0 h after the finish; up to 3 h is within/);
  });

  it('is read as the loop’s clock or as UTC where the camera says no zone', () => {
    // 09:29 on the wall at +02:00; with a zone it would be two hours after the start
    expect(outcomeOf('photo-time', photoAt('2031-05-04T09:29:00Z', null))).toBe('pass');
    expect(outcomeOf('photo-time', photoAt('2031-05-04T07:29:00Z', null))).toBe('pass');
    const west = withRecord({ startedAt: '2031-05-04T09:30:00-08:00', utcOffsetMin: -480 });
    expect(outcomeOf('photo-time', photoAt('2031-05-04T09:29:00Z', null, west))).toBe('pass');
    expect(outcomeOf('photo-time', photoAt('2031-05-04T09:29:00Z', 0, west))).toBe('caution');
    expect(outcomeOf('photo-time', photoAt('2031-05-05T09:29:00Z', null))).toBe('caution');
  });

  it('judges by the photo that is farthest out, and not at all without a time', () => {
    const [inside] = GOOD_RUN.photoTimes;
    const outside = { at: '2031-05-06T07:30:00Z', utcOffsetMin: 120 };
    expect(outcomeOf('photo-time', { ...GOOD_RUN, photoTimes: inside ? [inside, outside] : [] })).toBe(
      'caution',
    );
    expect(outcomeOf('photo-time', { ...GOOD_RUN, photoTimes: [] })).toBe('notChecked');
  });
});
