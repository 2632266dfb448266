import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  DEFAULT_PREFERENCES,
  displayParameters,
  type Preferences,
  UNIT_CHOICES,
  unitFor,
} from '@/lib/units/display';
import { displayAt, parsePreferences, preferencesFrom } from '@/lib/units/displaySchema';
import { dimensionOf, unitsOf } from '@/lib/units/unit';

const somePreferences: fc.Arbitrary<Preferences> = fc.record({
  consumption: fc.constantFrom(...UNIT_CHOICES.consumption),
  distance: fc.constantFrom(...UNIT_CHOICES.distance),
  height: fc.constantFrom(...UNIT_CHOICES.height),
  wind: fc.constantFrom(...UNIT_CHOICES.wind),
  temperature: fc.constantFrom(...UNIT_CHOICES.temperature),
  tyrePressure: fc.constantFrom(...UNIT_CHOICES.tyrePressure),
  airPressure: fc.constantFrom(...UNIT_CHOICES.airPressure),
  mass: fc.constantFrom(...UNIT_CHOICES.mass),
  mark: fc.constantFrom('point', 'comma'),
  appearance: fc.constantFrom('system', 'light', 'dark'),
});

describe('what is kept of a reader’s choices', () => {
  it('comes back as it was kept', () => {
    fc.assert(
      fc.property(somePreferences, (chosen) => {
        expect(preferencesFrom(JSON.parse(JSON.stringify(chosen)))).toEqual(chosen);
        expect(parsePreferences(chosen).data).toEqual(chosen);
      }),
    );
  });

  it('is bounded by what is on offer, choice by choice', () => {
    const kept = { consumption: 'mi/kWh', wind: 'furlong', mark: 7, more: 'x', __proto__: { mass: 'lb' } };
    expect(preferencesFrom(kept)).toEqual({ ...DEFAULT_PREFERENCES, consumption: 'mi/kWh' });
    fc.assert(
      fc.property(fc.anything(), (junk) => {
        expect(parsePreferences(preferencesFrom(junk)).success).toBe(true);
      }),
    );
  });

  it('is refused from a form where a choice is not on offer', () => {
    const sent = parsePreferences({ ...DEFAULT_PREFERENCES, temperature: 'K' });
    expect(sent.success).toBe(false);
    expect(sent.error?.issues.map(({ path }) => path)).toEqual([['temperature']]);
  });

  it('offers every unit of consumption, and units of one dimension by kind', () => {
    expect([...UNIT_CHOICES.consumption].sort()).toEqual(unitsOf('consumption').sort());
    for (const units of Object.values(UNIT_CHOICES)) {
      expect(new Set(units.map(dimensionOf)).size).toBe(1);
    }
  });
});

describe('an address that says a display', () => {
  it('wins where it says something that is on offer', () => {
    const kept = { ...DEFAULT_PREFERENCES, consumption: 'mi/kWh', mark: 'comma' } as const;
    const at = (query: string) => {
      const parameters = new URLSearchParams(query);
      return displayAt(kept, (name) => parameters.get(name) ?? undefined);
    };
    expect(at('unit=Wh%2Fkm')).toMatchObject({ consumption: 'Wh/km', mark: 'comma' });
    expect(at('unit=litres&mark=point')).toMatchObject({ consumption: 'mi/kWh', mark: 'point' });
    expect(at('')).not.toHaveProperty('appearance');
  });

  it('says the whole display, and says nothing of the default', () => {
    expect(displayParameters(DEFAULT_PREFERENCES)).toEqual([]);
    fc.assert(
      fc.property(somePreferences, ({ appearance: _, ...display }) => {
        const parameters = new Map(displayParameters(display));
        expect(displayAt(DEFAULT_PREFERENCES, (name) => parameters.get(name))).toEqual(display);
      }),
    );
  });
});

describe('the unit of a kind', () => {
  it('is the chosen one; a speed goes with the distance; a unit stands for itself', () => {
    const chosen = { ...DEFAULT_PREFERENCES, distance: 'mi', wind: 'kn' } as const;
    expect(unitFor('wind', chosen)).toBe('kn');
    expect(unitFor('speed', chosen)).toBe('mph');
    expect(unitFor('speed', DEFAULT_PREFERENCES)).toBe('km/h');
    expect(unitFor('kWh', chosen)).toBe('kWh');
  });
});
