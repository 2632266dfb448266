import { describe, expect, it } from 'vitest';
import { repeatText } from '@/lib/answers/repeatText';
import { seededRandom } from '@/lib/numerics/seededRandom';
import { dayDifferences } from '@/lib/study/dayDifference';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { dayOfRuns, planOf } from './plans';

const plan = planOf(2);

describe('what a day says by itself', () => {
  it('holds one run of each against the repeatability limit r = 2.8 s (ISO 5725-6:1994, 4.1)', () => {
    // s = 0.5 %, from v = 0.4 % and u = 0.3 %: 3-4-5
    const [day] = dayDifferences(plan, dayOfRuns(1, 'ab', [0, -0.013]), 0.004 ** 2);
    expect(day?.limit).toBeCloseTo(2.8 * 0.005, 12);
    expect(day).toMatchObject({ runs: [1, 1], isBeyond: false });
    const [beyond] = dayDifferences(plan, dayOfRuns(1, 'ab', [0, -0.015]), 0.004 ** 2);
    expect(beyond?.isBeyond).toBe(true);
  });

  it('holds means of several by the critical difference 2.8 s √(1/2n + 1/2m) (4.2.1)', () => {
    const [day] = dayDifferences(plan, dayOfRuns(1, 'abba', [0, -0.01, -0.02, 0.004]), 0.004 ** 2);
    expect(day?.difference).toBeCloseTo(-0.015 - 0.002, 12);
    expect(day?.limit).toBeCloseTo(2.8 * 0.005 * Math.SQRT1_2, 12);
    const [three] = dayDifferences(plan, dayOfRuns(1, 'aba', [0, 0, 0]), 0.004 ** 2);
    expect(three?.limit).toBeCloseTo(2.8 * 0.005 * Math.sqrt(1 / 2 + 1 / 4), 12);
  });

  it('leaves out a day that has only one of the two', () => {
    expect(dayDifferences(plan, dayOfRuns(1, 'aa', [0, 0]), 1e-4)).toEqual([]);
    expect(
      dayDifferences(plan, [...dayOfRuns(1, 'aa', [0, 0]), ...dayOfRuns(2, 'ba', [0, 0])], 1e-4),
    ).toHaveLength(1);
  });

  it('is beyond it one time in twenty where the two do not differ, however many runs of each', () => {
    const random = seededRandom(7);
    for (const order of ['ab', 'abb']) {
      let beyond = 0;
      for (let i = 0; i < 4000; i++) {
        const zs = [...order].map(() => 0.005 * random.nextNormal());
        if (dayDifferences(plan, dayOfRuns(1, order, zs, { u: 0 }), 0.005 ** 2)[0]?.isBeyond) beyond++;
      }
      // 2 Φ(−2.8/√2) = 0.0477; four standard errors of a share of 4000
      expect(Math.abs(beyond / 4000 - 0.0477), order).toBeLessThan(4 * Math.sqrt((0.0477 * 0.9523) / 4000));
    }
  });
});

describe('its sentence', () => {
  const of = (difference: number, limit: number, runs: [number, number] = [1, 1]) =>
    repeatText(
      {
        sessionId: 's',
        day: '2026-10-01',
        setupId: 'b',
        runs,
        difference,
        limit,
        isBeyond: Math.abs(difference) > limit,
      },
      DEFAULT_PREFERENCES,
    );

  it('says how far they lie apart, and whether such runs repeat to that', () => {
    expect(of(Math.log(0.981), Math.log(1.026))).toBe(
      '1 run of each, −1.9 %: within what such runs repeat to (2.6 %). Chance alone may do that.',
    );
    expect(of(Math.log(0.96), Math.log(1.026), [2, 2])).toBe(
      '2 runs of each, −4.0 %: beyond what such runs repeat to (2.6 %). Chance alone goes so far less than one time in twenty.',
    );
    expect(of(0, 0.02, [1, 2])).toMatch(/^1 against 2 of the baseline, /);
  });
});
