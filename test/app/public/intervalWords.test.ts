import { describe, expect, it } from 'vitest';
import { chancePercent, simulatedText } from '@/app/(public)/intervals/words';
import { type SimulatedRow, summarise } from '@/lib/stats/holds/simulatedCoverage';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

const row = (share: number, standardError = 0.005): SimulatedRow => ({
  group: 'demo',
  layout: 'kmh-110',
  kind: 'within',
  target: [0.935, 0.965],
  share,
  standardError,
  worlds: 1000,
  intervals: 4000,
});

describe('what simulated worlds showed, in words', () => {
  it('leaves to chance what lies outside by two standard errors or less', () => {
    const rows = [row(0.95), row(0.965), row(0.974), row(0.926), row(0.98), row(0.91)];
    expect(summarise(rows)).toEqual({
      within: 2,
      byChance: 2,
      tooWide: [row(0.98)],
      tooNarrow: [row(0.91)],
    });
    const text = simulatedText(rows, DEFAULT_PREFERENCES);
    expect(text).toContain('Of 6 counts, 2 lie within what is wanted, 2 outside it by no more');
    expect(text).toMatch(/1 held less often than wanted: differences within a model in .*110.*\(91\.0/);
    expect(text).toMatch(/1 held more often than wanted, so it is wider than need be: .*\(98\.0/);
  });

  it('says so where none is too narrow, and lists only the first few', () => {
    const text = simulatedText(Array<SimulatedRow>(7).fill(row(0.99)), DEFAULT_PREFERENCES);
    expect(text).toContain('None held less often than wanted.');
    expect(text).toContain('and 3 more in the table');
  });

  it('never says that a chance is 0 or 100 %', () => {
    const words = (chance: number) => chancePercent(chance, DEFAULT_PREFERENCES);
    expect([0, 0.0009, 0.034, 0.9995, 1].map(words)).toEqual([
      'under 0.1',
      'under 0.1',
      '3.4',
      'over 99.9',
      'over 99.9',
    ]);
  });
});
