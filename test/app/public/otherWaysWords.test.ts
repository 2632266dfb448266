import { describe, expect, it } from 'vitest';
import { notDrawnText, signSentence } from '@/app/(public)/compare/otherWaysWords';
import { type OtherWays, turnWays, type Way } from '@/lib/stats/otherWays/way';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

const way = (name: Way, percent: number | null) => ({
  way: name,
  difference: percent === null ? null : Math.log1p(percent / 100),
  interval: null,
});
const carsLeftOut = { cars: 7, answered: 7, sameSign: 7, low: Math.log1p(-0.025), high: Math.log1p(-0.01) };
const found: OtherWays = {
  ways: [way('asMeasured', -3.1), way('withoutWind', -0.8), way('sameSession', -1.4)],
  same: ['withoutRetrospective'],
  carsLeftOut,
};

describe('whether the answer hangs on the method, in a sentence', () => {
  it('says in how many ways the sign holds, and the span', () => {
    expect(signSentence(-1.3, found, DEFAULT_PREFERENCES, 1)).toBe(
      'Worked out 3 other ways, it comes out as less in all 3, from −3.1 to −0.8 %. With each of 7 cars left out in turn, it stays less, from −2.5 to −1.0 %.',
    );
    const turned = { ...found, ways: [...found.ways, way('withoutAir', 0.4)], carsLeftOut: null };
    expect(signSentence(-1.3, turned, DEFAULT_PREFERENCES, 1)).toBe(
      'Worked out 4 other ways, it comes out as less in 3 of 4, from −3.1 to +0.4 %.',
    );
  });

  it('says the same seen from the other setup', () => {
    expect(signSentence(1.3, turnWays(found), DEFAULT_PREFERENCES, 1)).toMatch(
      /^Worked out 3 other ways, it comes out as more in all 3, from \+0\.8 to \+3\.2 %/,
    );
    expect(turnWays(turnWays(found))).toEqual(found);
  });

  it('reads well where one way, or none, is left', () => {
    const one = { ...found, ways: [way('asMeasured', 0.5)], carsLeftOut: null };
    expect(signSentence(-1.3, one, DEFAULT_PREFERENCES, 1)).toBe(
      'Worked out one other way, it comes out as more: +0.5 %.',
    );
    expect(signSentence(1.3, one, DEFAULT_PREFERENCES, 1)).toBe(
      'Worked out one other way, it comes out as more too: +0.5 %.',
    );
    expect(signSentence(1.3, { ...one, ways: [way('sameSession', null)] }, DEFAULT_PREFERENCES, 1)).toBe(
      'There is no other way to work out this pair.',
    );
  });

  it('says where a car carries the pair alone', () => {
    const alone = { ...found, carsLeftOut: { ...carsLeftOut, answered: 6, sameSign: 5 } };
    expect(signSentence(-1.3, alone, DEFAULT_PREFERENCES, 1)).toContain(
      'it is less in 5 of 6 cases, from −2.5 to −1.0 %. Without one of them there is nothing left to compare.',
    );
  });

  it('names what is not drawn, and why', () => {
    expect(notDrawnText({ ...found, ways: [way('sameSession', null)] })).toEqual([
      'These ways change nothing, as no run of the class is affected: without runs recorded afterwards.',
      'No answer for this pair: same-session pairs only.',
    ]);
  });
});
