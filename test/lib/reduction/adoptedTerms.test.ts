import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AdoptedRoadLoad, adoptedTerms } from '@/lib/reduction/adoptedTerms';
import type { SetupLevelSnapshot } from '@/lib/reduction/snapshot';
import { FACTORS, factorChanges } from '@/lib/run/factors';
import { TYRE_KINDS, type TyreKind } from '@/lib/run/tyreKind';
import { snapshotOf } from './exampleSnapshot';

const KEYS = FACTORS.map(({ key }) => key as string);

const adopted = (levels: AdoptedRoadLoad['levels'] = []): AdoptedRoadLoad => ({
  label: '1+priors1+learned1',
  runs: 9,
  posterior: {
    mean: [1.1, 0.011, 600],
    covariance: [
      [0.0025, -0.00002, 0],
      [-0.00002, 0.00000064, 0],
      [0, 0, 10_000],
    ],
  },
  levels,
});
const learnedAt = (factor: string, levelId: string, tyreKind: TyreKind | null = null) => ({
  factor,
  levelId,
  tyreKind,
});
const at = (factor: string, levelId: string, isBaseline = false): SetupLevelSnapshot => ({
  ...learnedAt(factor, levelId),
  isBaseline,
});
const terms = (
  levels: AdoptedRoadLoad['levels'],
  driven: readonly SetupLevelSnapshot[],
  deliveredTyreKind: TyreKind | null = null,
) => adoptedTerms(adopted(levels), snapshotOf({ setup: { levels: driven }, model: { deliveredTyreKind } }));

describe('what an adopted road load says of a setup', () => {
  it('a factor that nobody knows any more may change anything', () => {
    for (const each of [terms([], [at('sails', 'set')]), terms([learnedAt('sails', 'set')], [])]) {
      expect(each).toMatchObject({ dragOfSetup: { value: 1 }, rollingOfSetup: { value: 1 } });
    }
  });

  it('is the same as delivered where levels as delivered are named', () => {
    const levels = KEYS.map((key) => at(key, `${key} as delivered`, true));
    expect(terms([], levels)).toEqual(terms([], []));
    const { correlation, dragAreaM2, dragOfSetup } = terms([], []);
    // −2·10⁻⁵/√(2.5·10⁻³ · 6.4·10⁻⁷) = −0.5
    expect(correlation).toBeCloseTo(-0.5, 12);
    expect(dragAreaM2).toEqual({ value: expect.closeTo(0.99, 12), u: expect.closeTo(0.045, 12) });
    expect(dragOfSetup).toBeUndefined();
  });

  it('learned from a setup of its own, it is of that setup, and the car as delivered is the changed one', () => {
    const low = [learnedAt('rideHeight', 'low')];
    expect(terms(low, [at('rideHeight', 'low')]).dragOfSetup).toBeUndefined();
    expect(terms(low, [at('rideHeight', 'high')]).dragOfSetup).toEqual({ value: 1, u: 0.05 });
    expect(terms(low, []).dragOfSetup).toEqual({ value: 1, u: 0.05 });
    expect(terms(low, []).rollingOfSetup).toBeUndefined();
  });

  it('a term has a change just where a factor that changes it differs; the learned value is always the same', () => {
    fc.assert(
      fc.property(fc.subarray(KEYS), fc.subarray(KEYS), (learned, driven) => {
        const found = terms(
          learned.map((factor) => learnedAt(factor, 'other')),
          driven.map((factor) => at(factor, 'other')),
        );
        const differ = KEYS.filter((key) => learned.includes(key) !== driven.includes(key));
        expect(found.dragOfSetup !== undefined).toBe(differ.some((key) => factorChanges(key, 'drag')));
        expect(found.rollingOfSetup !== undefined).toBe(differ.some((key) => factorChanges(key, 'rolling')));
        const { dragOfSetup: _, rollingOfSetup: __, ...same } = found;
        expect(same).toEqual(terms([], []));
      }),
    );
  });

  it('there and back between two kinds of tyre is no change, and equally uncertain as a share', () => {
    const kind = fc.constantFrom(...TYRE_KINDS.map(({ value }) => value));
    fc.assert(
      fc.property(kind, kind, kind, (one, other, delivered) => {
        const change = (from: TyreKind, to: TyreKind) =>
          terms(
            [learnedAt('wheelTyre', `${from} a`, from)],
            [{ ...at('wheelTyre', `${to} b`), tyreKind: to }],
            delivered,
          ).rollingOfSetup ?? { value: Number.NaN, u: Number.NaN };
        const [there, back] = [change(one, other), change(other, one)];
        expect(there.value * back.value).toBeCloseTo(1, 12);
        expect(there.u / there.value).toBeCloseTo(back.u / back.value, 12);
        // a kind that the level does not name is that of the model as delivered
        const unnamed = terms([], [{ ...at('wheelTyre', 'b'), tyreKind: other }], one).rollingOfSetup;
        expect(unnamed).toEqual(there);
      }),
    );
  });
});
