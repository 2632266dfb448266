import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createRandom } from '@/lib/numerics/random';
import { lastDigitsOf, testLastDigits, testSpread } from '@/lib/stats/plausibility';

describe('last digits', () => {
  it('are those of numbers that show three or more', () => {
    expect(lastDigitsOf(['22.4', '11,05', '9.5', '1024', '0.123', ''])).toEqual([4, 5, 4, 3]);
  });

  it('are held against chance from both sides', () => {
    const times = (counts: readonly number[]) => counts.flatMap((n, digit) => Array<number>(n).fill(digit));
    // χ² = Σ (n − 5)²/5 = 16, between the points of 0.10 and 0.05 with 9 degrees of freedom, 14.684 and 16.919
    // (NIST/SEMATECH e-Handbook, table 1.3.6.7.4)
    const uneven = testLastDigits(times([11, 2, 3, 5, 4, 9, 2, 6, 3, 5]));
    expect(uneven?.readings).toBe(50);
    expect(uneven?.pValue).toBeGreaterThan(2 * 0.05);
    expect(uneven?.pValue).toBeLessThan(2 * 0.1);
    // (29² + 29²)/100 = 16.82, nearly the point of 0.05
    const at = testLastDigits(times([100, 100, 100, 100, 100, 100, 100, 100, 129, 71]));
    expect(at?.pValue).toBeCloseTo(2 * 0.05, 2);
    // dealt out evenly: no more likely than chance would have it
    expect(testLastDigits(times(Array(10).fill(40)))?.pValue).toBeLessThan(1e-6);
    // nothing but 0 and 5
    expect(testLastDigits(times([30, 0, 0, 0, 0, 30, 0, 0, 0, 0]))?.pValue).toBeLessThan(1e-12);
    expect(testLastDigits([])).toBeNull();
  });

  it('of honest displays are found at the stated rate and no more often', () => {
    const random = createRandom(5);
    let found = 0;
    for (let tester = 0; tester < 4000; tester++) {
      const digits = Array.from({ length: 80 }, () => Math.floor(10 * random.next()));
      if ((testLastDigits(digits)?.pValue ?? 1) < 0.02) found += 1;
    }
    // of 4000 at 0.02: 80, within five standard deviations
    expect(Math.abs(found - 80)).toBeLessThan(45);
  });
});

describe('the spread of repeated runs', () => {
  it('is χ² over the variance that the class has, cell by cell', () => {
    // two runs of variance 1e-4 each, 0.02 apart: (0.02)²/(2·1e-4) = 2 on 1 degree of freedom
    const cell = [
      { z: 5, u: 0.006 },
      { z: 5.02, u: 0.006 },
    ];
    const found = testSpread([cell, [{ z: 4, u: 0.006 }]], 6.4e-5);
    expect(found).toMatchObject({ runs: 2, dof: 1 });
    expect(found?.ratio).toBeCloseTo(2, 10);
    // 1 − 0.1573: the normal's two tails beyond √2 are 0.1573
    expect(found?.pValue).toBeCloseTo(0.8427, 4);
    expect(testSpread([], 1e-4)).toBeNull();
    expect(testSpread([cell.map(({ z }) => ({ z, u: 0 }))], 0)).toBeNull();
  });

  it('hangs on no constant of a cell, and shrinks with the square of what it is scaled by', () => {
    const cells = fc.array(
      fc.array(
        fc.record({ z: fc.double({ min: -0.05, max: 0.05, noNaN: true }), u: fc.constantFrom(0.003, 0.006) }),
        {
          minLength: 2,
          maxLength: 5,
        },
      ),
      { minLength: 1, maxLength: 6 },
    );
    fc.assert(
      fc.property(cells, fc.double({ min: -3, max: 3, noNaN: true }), (drawn, shift) => {
        const of = (change: (z: number) => number) =>
          testSpread(
            drawn.map((cell) => cell.map(({ z, u }) => ({ z: change(z), u }))),
            5e-5,
          )?.ratio as number;
        const whole = of((z) => z);
        expect(of((z) => z + shift)).toBeCloseTo(whole, 6);
        expect(of((z) => z / 5)).toBeCloseTo(whole / 25, 8);
      }),
    );
  });
});
