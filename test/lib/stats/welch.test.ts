import { describe, expect, it } from 'vitest';
import { welchTest } from '@/lib/stats/welch';
import { readResult, readTable } from './reference';

// R: t.test.
interface TTest {
  stat: number;
  df: number;
  p: number;
  ci: [number, number];
}
const wanted = readResult<{ welch: { sleep_welch: TTest; xy: { x: number[]; y: number[]; welch: TTest } } }>(
  'tests',
).welch;

describe("Welch's test against R", () => {
  const sleep = readTable('sleep');
  const group = (g: string) => sleep.filter((row) => row.group === g).map((row) => Number(row.extra));
  it.each([
    { name: 'sleep', x: group('1'), y: group('2'), r: wanted.sleep_welch },
    { name: 'unequal samples', x: wanted.xy.x, y: wanted.xy.y, r: wanted.xy.welch },
  ])('$name', ({ x, y, r }) => {
    const found = welchTest(x, y);
    expect(found?.t).toBeCloseTo(r.stat, 12);
    expect(found?.df).toBeCloseTo(r.df, 10);
    expect(found?.p).toBeCloseTo(r.p, 12);
    expect(found?.interval[0]).toBeCloseTo(r.ci[0], 10);
    expect(found?.interval[1]).toBeCloseTo(r.ci[1], 10);
  });

  it('gives nothing where there is nothing to say', () => {
    expect(welchTest([1], [1, 2])).toBeNull();
    expect(welchTest([1, 1], [2, 2])).toBeNull();
  });
});
