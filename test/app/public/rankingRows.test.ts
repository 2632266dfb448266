import { describe, expect, it } from 'vitest';
import { caveatsOf } from '@/app/(public)/estimateCaveats';
import { missingText, rankingRow } from '@/app/(public)/rankings/rankingRows';
import type { RankedSetup } from '@/lib/registry/rankings/rankings';
import { fitGroup } from '@/lib/stats/fitGroup';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

const setup: RankedSetup = {
  setupId: 'low',
  slug: 'low',
  title: 'Ride height: low',
  model: 'Tarn Works Skerry, 2025',
  modelSlug: 'skerry',
  runs: 4,
  cars: 3,
  testers: 2,
  loops: 1,
  days: 3,
  estimateWhPerKm: 194,
  lowWhPerKm: 190,
  highWhPerKm: 198,
  intervalKind: 'model',
  rawMeanWhPerKm: 201,
  isRanked: true,
  label: '',
  missing: [],
  rankLower: 3,
  rankUpper: 9,
  chanceOfLowest: 0.1,
  component: 0,
};

describe('a row of the ranking', () => {
  it('never draws what one run of one car may vary by as an interval', () => {
    const row = rankingRow({ ...setup, intervalKind: 'expectedVariation' }, DEFAULT_PREFERENCES, 40, false);
    expect([row.low, row.high]).toEqual([undefined, undefined]);
    expect(row.intervalText).toBe('none of its own');
  });

  it('holds interval, counts, and the set of its places', () => {
    const row = rankingRow(setup, DEFAULT_PREFERENCES, 40, true);
    expect(row).toMatchObject({
      text: '19.40',
      low: 19,
      high: 19.8,
      rank: 'rank 3–9 of 40',
    });
    expect(row.counts).toContain('4 runs');
    expect(row.counts).toContain('3 cars');
    expect(row.before?.text).toBe('as measured 20.10');
    expect(row.caveat).toBeUndefined();
  });

  it('says what its layout leaves unseen: of runs of one car on one day, both', () => {
    const rows = [5, 5.01].map((z) => ({ setup: 'low', car: 'mine', session: 'today', z, u: 0.004 }));
    const label = fitGroup(rows).estimates[0]?.label ?? '';
    expect(label).toContain('one session');
    const caveat = rankingRow({ ...setup, label }, DEFAULT_PREFERENCES, 40, false).caveat ?? '';
    expect(caveat).toContain('one day: how days differ is not seen in its runs');
    expect(caveat).toContain('one car: what is its own cannot be told from the setup');
  });

  it('says what is missing before it is ranked, with the same caveats', () => {
    const missing = [{ what: 'sessions', have: 1, need: 2 }];
    expect(missingText({ missing, label: 'one session' })).toBe(
      '1 of 2 sessions; one day: how days differ is not seen in its runs',
    );
    expect(missingText({ missing: [], label: '' })).toBe('nothing missing');
    expect(caveatsOf('a word of some other version')).toEqual([]);
  });
});
