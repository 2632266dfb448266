import { describe, expect, it } from 'vitest';
import { clusterName, type Place, placelessText, placeText } from '@/lib/answers/placeText';

const nobody = { restsOn: [], without: null };
const place = (own: Partial<Place>): Place => ({
  rankLower: null,
  rankUpper: null,
  testers: 1,
  held: nobody,
  ...own,
});

describe('a place in the ranking', () => {
  it('is a set, with what it would be without the tester who moves it most', () => {
    expect(placeText(place({ rankLower: 3, rankUpper: 9 }), 40)).toBe('rank 3–9 of 40');
    expect(placeText(place({ rankLower: 2, rankUpper: 2 }), 5)).toBe('rank 2 of 5');
    const held = { restsOn: [], without: { names: ['Mira Holm'], lower: 2, upper: 6 } };
    expect(placeText(place({ rankLower: 1, rankUpper: 6, held }), 12)).toBe(
      'rank 1–6 of 12; would be rank 2–6 without Mira Holm',
    );
  });

  it('is none where one tester makes it, and nothing is said where there is nothing to say', () => {
    expect(placeText(place({ held: { ...nobody, restsOn: ['Mira Holm'] } }), 12)).toBe(
      'no place yet: rests on one tester (Mira Holm)',
    );
    expect(placeText(place({ testers: 3, held: { ...nobody, restsOn: ['Mira Holm'] } }), 12)).toBe(
      'no place yet: rests mainly on one tester (Mira Holm)',
    );
    expect(
      placeText(place({ testers: 2, held: { ...nobody, restsOn: ['Mira Holm', 'Ivo Brand'] } }), 12),
    ).toBe('no place yet: rests on one tester (Mira Holm and 1 other who counts as one with them)');
    expect(placeText(place({}), 12)).toBeUndefined();
  });

  it('names testers who count as one by the first of them', () => {
    expect(clusterName(['Al', 'Bo'])).toBe('Al and 1 other who counts as one with them');
    expect(clusterName(['Al', 'Bo', 'Cy'])).toBe('Al and 2 others who count as one with them');
  });
});

describe('a ranking whose setups have no place', () => {
  const mira = place({ held: { ...nobody, restsOn: ['Mira Holm'] } });
  it('says why, and what would change it', () => {
    expect(placelessText([mira, mira], 0)).toBe(
      'No setup has a place yet: they stand in order, but each rests on Mira Holm. Runs of them by another tester would change that.',
    );
    expect(placelessText([mira, place({ rankLower: 1, rankUpper: 1 })], 1)).toBe(
      '1 of these stands in order without a place: it rests on Mira Holm. Runs of it by another tester would change that.',
    );
    expect(placelessText([mira, { ...mira, testers: 2 }], 0)).toContain(
      'but each rests mainly on Mira Holm.',
    );
    expect(placelessText([place({ rankLower: 1, rankUpper: 1 })], 1)).toBeUndefined();
  });
});
