import { describe, expect, it } from 'vitest';
import { differenceText, resultText, verdict } from '@/app/(public)/compare/words';
import type { SetupDifference } from '@/lib/registry/comparisons/compare';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';

const plain: Display = DEFAULT_PREFERENCES;
const further: Display = { ...plain, consumption: 'mi/kWh', mark: 'comma' };

const difference: SetupDifference = {
  setup: {
    setupId: 'low',
    slug: 'low',
    title: 'Ride height: low',
    name: 'Ride height: low',
    model: 'Skerry',
    runs: 4,
    cars: 1,
    testers: 1,
    loops: 1,
    days: 2,
    estimateWhPerKm: 194,
    lowWhPerKm: 190,
    highWhPerKm: 198,
    intervalKind: 'model',
    rawMeanWhPerKm: 199,
    label: '',
  },
  connection: 'shared session',
  refusal: null,
  percent: -3.14,
  pointwise: [-4.4, -1.9],
  simultaneous: [-5, -1.25],
  word: 'settled',
  restsOnOne: false,
  otherWays: undefined,
  dof: 20,
  sharedUPercent: null,
  rawPercent: -0.5,
  onTripWh: null,
  pairs: { latest: [], total: 0, lower: 0, quartilesPercent: [] },
  separation: { detectablePercent: null, plans: [], cannotPlan: null },
};

describe('a difference in words', () => {
  it('says how much less, with the interval and what it holds for', () => {
    expect(verdict(difference, 'As delivered', plain)).toBe(
      '“Ride height: low” uses 3.1 % less than “As delivered” (95 % interval −5.0 to −1.3 %, held for all pairs of the class at once).',
    );
    expect(verdict({ ...difference, percent: 3.14, simultaneous: [1, 5] }, 'x', plain)).toContain(
      '3.1 % more than',
    );
  });

  it('turns words, sign, ends and mark with a unit of distance per energy', () => {
    // 1/0.9686 = 1.03242, 1/0.9875 = 1.01266, 1/0.95 = 1.05263
    expect(verdict(difference, 'As delivered', further)).toBe(
      '“Ride height: low” goes 3,2 % further per kWh than “As delivered” (95 % interval +1,3 to +5,3 %, held for all pairs of the class at once).',
    );
    const worse = { ...difference, percent: 3.14, simultaneous: [1, 5] as [number, number] };
    expect(verdict(worse, 'x', further)).toContain('3,0 % less far per kWh than');
    expect(differenceText(difference, further)).toBe('+3,2 % (+1,3 to +5,3)');
    const leaning = verdict({ ...difference, word: 'leaning', simultaneous: [-7, 1] }, 'x', further);
    expect(leaning).toContain('going 3,2 % further per kWh');
  });

  it('says a difference to the place of its interval', () => {
    const wide = { ...difference, simultaneous: [-16, 9] as [number, number] };
    expect(differenceText(wide, plain)).toBe('−3 % (−16 to +9)');
    const narrow = { ...difference, simultaneous: [-3.3, -2.98] as [number, number] };
    expect(differenceText(narrow, plain)).toBe('−3.14 % (−3.30 to −2.98)');
  });

  it('never says less or more where the two cannot be told apart', () => {
    const words = verdict({ ...difference, word: 'undecided', simultaneous: [-7, 1] }, 'As delivered', plain);
    expect(words).toContain('cannot be told apart');
    expect(words).not.toMatch(/ less | more /);
  });

  it('says that an answer rests on one tester, and no word that it does not bear', () => {
    const rests = { ...difference, word: 'probable' as const, restsOnOne: true };
    expect(resultText(rests)).toBe('probable, rests on one tester');
    expect(verdict(rests, 'As delivered', plain)).toBe(
      '“Ride height: low” probably uses 3.1 % less than “As delivered” (95 % interval −5.0 to −1.3 %, held for all pairs of the class at once). It would be settled, but rests on one tester.',
    );
    expect(verdict({ ...rests, word: 'leaning' }, 'x', plain)).toContain('lean toward');
    expect(resultText(difference)).toBe('settled');
  });

  it('says how far the evidence goes', () => {
    expect(verdict({ ...difference, word: 'probable', simultaneous: [-7, 1] }, 'x', plain)).toContain(
      'probably uses',
    );
    const leaning = verdict({ ...difference, word: 'leaning', simultaneous: [-7, 1] }, 'x', plain);
    expect(leaning).toContain('lean toward');
    expect(leaning).toContain('95 % interval −4.4 to −1.9 %');
  });

  it('gives the reason in place of a number', () => {
    const refused = {
      ...difference,
      percent: null,
      pointwise: null,
      simultaneous: null,
      refusal: 'No car has driven both.',
    };
    expect(verdict(refused, 'As delivered', plain)).toContain('No car has driven both.');
    expect(differenceText(refused, plain)).toBe('not compared');
    const few = { ...refused, percent: -5.25, refusal: 'Too few sessions.' };
    expect(verdict(few, 'x', plain)).toContain('−5.3 %, but without an interval. Too few sessions.');
    expect(differenceText(few, plain)).toBe('−5.3 %');
  });
});
