import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  FACTORS,
  factorChanges,
  factorLabel,
  isFactorKey,
  leavesRoadLoad,
  levelsKey,
} from '@/lib/run/factors';

const level = fc.record({
  factor: fc.constantFrom(...FACTORS.map((factor) => factor.key)),
  key: fc.stringMatching(/^[a-z][a-z0-9-]{0,9}$/),
});
const levels = fc.uniqueArray(level, { selector: ({ factor }) => factor, maxLength: FACTORS.length });

describe('factors', () => {
  /** The words of the product's description. */
  it('are the eight that a tester may change', () => {
    expect(FACTORS.map((factor) => factor.label)).toEqual([
      'Drive mode',
      'Ride height',
      'Wheel and tyre',
      'Tyre pressure',
      'Load',
      'Openings and covers',
      'Roof and hitch items',
      'Cabin climate',
    ]);
    for (const { key, label } of FACTORS) {
      expect(isFactorKey(key)).toBe(true);
      expect(factorLabel(key)).toBe(label);
    }
  });

  it('know no other key and show an unknown one as it is', () => {
    expect(isFactorKey('colour')).toBe(false);
    expect(isFactorKey('Load')).toBe(false);
    expect(factorLabel('colour')).toBe('colour');
  });
});

describe('what a factor changes', () => {
  /** By the road-load equation F = ½ρ·CdA·v² + Crr·m·g of method A5, factor for factor; the table's own judgement. */
  it('is drag, rolling, mass or auxiliary power', () => {
    const of = (what: Parameters<typeof factorChanges>[1]) =>
      FACTORS.map(({ key }) => key).filter((key) => factorChanges(key, what));
    expect(of('drag')).toEqual(['driveMode', 'rideHeight', 'wheelTyre', 'openingsCovers', 'roofHitch']);
    expect(of('rolling')).toEqual(['driveMode', 'wheelTyre', 'tyrePressure']);
    expect(of('mass')).toEqual(['load']);
    expect(of('auxiliaryPower')).toEqual(['cabinClimate']);
  });

  it('leaves the road load only where neither drag nor rolling is changed; an unknown factor may change both', () => {
    expect(FACTORS.map(({ key }) => key).filter(leavesRoadLoad)).toEqual(['load', 'cabinClimate']);
    for (const key of ['sails', '__proto__', 'constructor', '']) expect(leavesRoadLoad(key)).toBe(false);
  });
});

describe('levelsKey', () => {
  it('writes factor and level', () => {
    expect(levelsKey([])).toBe('');
    expect(
      levelsKey([
        { factor: 'rideHeight', key: 'low' },
        { factor: 'driveMode', key: 'eco' },
      ]),
    ).toBe('driveMode=eco;rideHeight=low');
  });

  it('does not see the order, and leaves the given list as it is', () => {
    fc.assert(
      fc.property(levels, (list) => {
        const before = structuredClone(list);
        expect(levelsKey([...list].reverse())).toBe(levelsKey(list));
        expect(list).toEqual(before);
      }),
    );
  });

  it('sees another level of one factor, and a factor more', () => {
    fc.assert(
      fc.property(levels, (list) => {
        const [first, ...rest] = list;
        fc.pre(first !== undefined);
        expect(levelsKey(rest)).not.toBe(levelsKey(list));
        expect(levelsKey([{ factor: first?.factor ?? '', key: `${first?.key}x` }, ...rest])).not.toBe(
          levelsKey(list),
        );
      }),
    );
  });
});
