import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sessionsToSettle } from '@/lib/stats/settling';
import { invert, multiply, transpose } from './dense';

/**
 * Variance of B − A by generalised least squares on the whole covariance matrix of the runs: sessions of one car, each
 * A B B A, with effects of car and session. Nothing of the engine's is used.
 */
function denseVariance(sessions: number): number {
  const v = V;
  const runs = Array.from({ length: sessions * 4 }, (_, i) => ({
    session: Math.floor(i / 4),
    isB: [0, 1, 1, 0][i % 4] as number,
  }));
  const covariance = runs.map((a, i) =>
    runs.map((b, j) => v.car + (a.session === b.session ? v.session : 0) + (i === j ? v.run : 0)),
  );
  const X = runs.map(({ isB }) => [1 - isB, isB]);
  const { inverse } = invert(covariance);
  const { inverse: phi } = invert(multiply(transpose(X), multiply(inverse, X)));
  const [[aa = 0, ab = 0] = [], [, bb = 0] = []] = phi;
  return aa - 2 * ab + bb;
}

const known = new Map<number, number>();
function variance(sessions: number): number {
  const found = known.get(sessions) ?? denseVariance(sessions);
  known.set(sessions, found);
  return found;
}

const V = { car: 3e-4, session: 1.2e-4, run: 0.9e-4 };
const fit = {
  components: { car: V.car, carLoop: 0, session: V.session, residual: V.run - 1e-5 },
  repeatability: { sr: 0, sR: 0, r: 0, R: 0, meanKnownVariance: 1e-5 },
};

function contrastAfter(sessions: number, difference: number, critical: number, sharedU = 0) {
  const se = Math.sqrt(variance(sessions) + sharedU ** 2);
  const around = (by: number): [number, number] => [difference - by * se, difference + by * se];
  return {
    difference,
    se,
    sharedU,
    ofModel: around(critical * 0.9),
    simultaneous: around(critical),
    word: 'undecided' as const,
    restsOnOne: false,
  };
}

describe('sessions that would settle a difference', () => {
  it('is the least number with which a dense model’s standard error is small enough', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 3 }),
        fc.double({ min: 0.004, max: 0.03, noNaN: true }),
        fc.double({ min: 2.5, max: 4, noNaN: true }),
        fc.double({ min: 0, max: 0.002, noNaN: true }),
        (have, difference, critical, sharedU) => {
          const found = sessionsToSettle(contrastAfter(have, difference, critical, sharedU), fit);
          // 0.8416 is the 80 % point of the normal distribution (any table)
          const enough = (more: number) =>
            (critical + 0.841621) * Math.sqrt(variance(have + more) + sharedU ** 2) <=
            difference * (1 + 1e-9);
          if (found === null) {
            if (critical * sharedU < difference / 2) expect(enough(24)).toBe(false);
            return;
          }
          expect(enough(found)).toBe(true);
          if (found > 1) expect(enough(found - 1)).toBe(false);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('says nothing where more of the same sessions would not', () => {
    const contrast = contrastAfter(2, 0.01, 3);
    expect(sessionsToSettle(contrast, fit)).toBeGreaterThan(0);
    expect(sessionsToSettle({ ...contrast, word: 'settled' as never }, fit)).toBeNull();
    expect(sessionsToSettle({ ...contrast, restsOnOne: true }, fit)).toBeNull();
    expect(sessionsToSettle({ ...contrast, ofModel: null }, fit)).toBeNull();
    expect(sessionsToSettle({ ...contrast, sharedU: 0.0099 }, fit)).toBeNull();
    expect(sessionsToSettle(contrast, { ...fit, repeatability: null })).toBeNull();
    expect(sessionsToSettle(contrastAfter(2, 1e-5, 3), fit)).toBeNull();
  });
});
