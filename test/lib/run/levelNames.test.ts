import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FACTORS, type FactorKey } from '@/lib/run/factors';
import { type OfferedLevel, suggestSharedLevel } from '@/lib/run/levelNames';

const factorKey = fc.constantFrom(...FACTORS.map(({ key }) => key));
const words = fc.string({ minLength: 1, maxLength: 20 });
const offered = fc
  .uniqueArray(words, { maxLength: 6 })
  .map((all) => all.map((each, index): OfferedLevel => ({ id: `${index}`, words: each })));

/** What testers write, and what each should suggest where nothing has been named yet. */
const CASES: readonly [FactorKey, string, string | undefined][] = [
  ['driveMode', 'Eco+', 'Eco'],
  ['driveMode', 'RANGE mode', 'Eco'],
  ['driveMode', 'Comfort', 'Normal'],
  // between two
  ['driveMode', 'Eco sport', undefined],
  ['rideHeight', 'Löw', 'Low'],
  ['rideHeight', 'Lowered 20 mm', 'Low'],
  // "allowed" holds no "low"
  ['rideHeight', 'allowed', undefined],
  ['wheelTyre', '17-inch summer', 'Summer tyres'],
  ['wheelTyre', '17-inch all season', 'All-season tyres'],
  ['wheelTyre', '20-inch', undefined],
  // the longer name says more
  ['tyrePressure', 'Placard, full load', 'Placard, full load'],
  ['tyrePressure', 'Placard, two people', 'Placard'],
  ['load', '400 kg cargo', undefined],
  ['roofHitch', 'Roof box 400 L', 'Roof box'],
  ['roofHitch', 'Two bicycles on the rear', 'Bicycles'],
  ['cabinClimate', 'Off', 'Off'],
];

describe('what the name of a level suggests', () => {
  it.each(CASES)('%s “%s” → %s', (factor, label, suggested) => {
    expect(suggestSharedLevel(factor, label, [])?.words).toBe(suggested);
  });

  it('is a shared level of the same name before anything else, however it is written', () => {
    fc.assert(
      fc.property(factorKey, fc.constantFrom('Low', 'Eco', 'Tow bar', '400 kg'), (factor, name) => {
        const shared = [
          { id: 'a', words: 'Something else' },
          { id: 'b', words: name },
        ];
        for (const label of [name, name.toUpperCase(), ` ${name}, `, name.replace(' ', '-')]) {
          expect(suggestSharedLevel(factor, label, shared)?.id).toBe('b');
        }
      }),
    );
  });

  it('is one of the levels offered, or a name that none of them has', () => {
    fc.assert(
      fc.property(factorKey, words, offered, (factor, label, shared) => {
        const suggestion = suggestSharedLevel(factor, label, shared);
        if (suggestion === undefined) return;
        const known = shared.find(({ id }) => id === suggestion.id);
        if (suggestion.id === undefined)
          expect(shared.map((one) => one.words)).not.toContain(suggestion.words);
        else expect(known?.words).toBe(suggestion.words);
      }),
    );
  });

  it('does not hang on case, or on the order in which levels are offered, where names differ', () => {
    const distinct = fc
      .constant(['Low', 'High', 'Normal', 'Eco', 'Roof box'])
      .map((all) => all.map((each): OfferedLevel => ({ id: each, words: each })));
    const label = fc.constantFrom('low', 'higher', 'standard', 'economy', 'box', 'nothing known');
    fc.assert(
      fc.property(factorKey, label, distinct, (factor, name, shared) => {
        const plain = suggestSharedLevel(factor, name, shared);
        expect(suggestSharedLevel(factor, name.toUpperCase(), [...shared].reverse())).toEqual(plain);
      }),
    );
  });

  it('is nothing for a name without a letter, and for a factor that nobody knows', () => {
    expect(suggestSharedLevel('rideHeight', ' – ', [{ id: 'a', words: '…' }])).toBeUndefined();
    expect(suggestSharedLevel('colour', 'low', [])).toBeUndefined();
    expect(suggestSharedLevel('constructor', 'low', [])).toBeUndefined();
  });
});
