import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AdoptedRoadLoad, adoptedTerms } from '@/lib/reduction/adoptedTerms';
import { FACTORS, factorChanges } from '@/lib/run/factors';

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
const at = (factor: string, levelId: string, isBaseline = false) => ({ factor, levelId, isBaseline });

describe('what of an adopted road load holds for a setup', () => {
  it('neither holds beside a factor that nobody knows any more', () => {
    expect(Object.keys(adoptedTerms(adopted(), [at('sails', 'set')]))).toEqual(['words']);
    expect(Object.keys(adoptedTerms(adopted([{ factor: 'sails', levelId: 'set' }]), []))).toEqual(['words']);
  });

  it('both terms hold as delivered, also where levels as delivered are named', () => {
    const levels = KEYS.map((key) => at(key, `${key} as delivered`, true));
    expect(adoptedTerms(adopted(), levels)).toEqual(adoptedTerms(adopted(), []));
    const { correlation, dragAreaM2 } = adoptedTerms(adopted(), []);
    // −2·10⁻⁵/√(2.5·10⁻³ · 6.4·10⁻⁷) = −0.5
    expect(correlation).toBeCloseTo(-0.5, 12);
    expect(dragAreaM2).toEqual({ value: expect.closeTo(0.99, 12), u: expect.closeTo(0.045, 12) });
  });

  it('learned from a setup of its own, it holds for that setup and not for the car as delivered', () => {
    const low = adopted([{ factor: 'rideHeight', levelId: 'low' }]);
    expect(adoptedTerms(low, [at('rideHeight', 'low')]).dragAreaM2).toBeDefined();
    expect(adoptedTerms(low, [at('rideHeight', 'high')]).dragAreaM2).toBeUndefined();
    const delivered = adoptedTerms(low, []);
    expect(delivered.dragAreaM2).toBeUndefined();
    expect(delivered.rollingCoefficient).toBeDefined();
    expect(delivered.correlation).toBeUndefined();
  });

  it('a term holds just where none of the factors that change it differ', () => {
    fc.assert(
      fc.property(fc.subarray(KEYS), fc.subarray(KEYS), (learnedAt, drivenAt) => {
        const terms = adoptedTerms(
          adopted(learnedAt.map((factor) => ({ factor, levelId: 'other' }))),
          drivenAt.map((factor) => at(factor, 'other')),
        );
        const differ = KEYS.filter((key) => learnedAt.includes(key) !== drivenAt.includes(key));
        expect(terms.dragAreaM2 === undefined).toBe(differ.some((key) => factorChanges(key, 'drag')));
        expect(terms.rollingCoefficient === undefined).toBe(
          differ.some((key) => factorChanges(key, 'rolling')),
        );
      }),
    );
  });
});
