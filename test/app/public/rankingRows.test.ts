import { describe, expect, it } from 'vitest';
import { caveatsOf } from '@/app/(public)/estimateCaveats';
import { consumptionRow, differenceRow, missingText } from '@/app/(public)/rankings/rankingRows';
import { fitGroup } from '@/lib/stats/fitGroup';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { rowContext as context, setup } from './rankedSample';

describe('a row of the ranking', () => {
  it('never draws what one run of one car may vary by as an interval', () => {
    const row = consumptionRow({ ...setup, intervalKind: 'expectedVariation' }, context);
    expect([row.low, row.high]).toEqual([undefined, undefined]);
    expect(row.intervalText).toBe('none of its own');
  });

  it('holds its interval, and on demand counts and the set of its places', () => {
    const row = consumptionRow(setup, context);
    expect(row).toMatchObject({ text: '19.40', low: 19, high: 19.8, rank: 'rank 3–9 of 40' });
    expect(row.counts).toContain('4 runs');
    expect(row.counts).toContain('3 cars');
    expect(row.caveat).toBeUndefined();
    const bare = consumptionRow(setup, { ...context, hasCounts: false });
    expect([bare.counts, bare.rank, bare.caveat]).toEqual([undefined, undefined, undefined]);
  });

  it('is one click from the comparison with the model as delivered, with the stored word', () => {
    expect(consumptionRow(setup, context).against).toEqual({
      text: 'settled',
      more: ', against the car as delivered',
      href: '/compare?class=kmh-110&world=record&setup=base&setup=low',
    });
    expect(consumptionRow({ ...setup, setupId: 'base' }, context).against).toEqual({ text: 'as delivered' });
    expect(consumptionRow({ ...setup, baseline: null }, context).against?.href).toBeUndefined();
  });

  it('says why its word is the weaker one, in the words that a reader of the link hears too', () => {
    const against = setup.against && { ...setup.against, word: 'probable' as const, restsOnOne: true };
    for (const row of [differenceRow, consumptionRow]) {
      expect(row({ ...setup, against }, context).against).toMatchObject({
        text: 'probable, rests mainly on one tester',
        more: ', against the car as delivered',
      });
    }
  });

  it('draws a difference with both of its intervals, turned where the unit is', () => {
    expect(differenceRow(setup, context)).toMatchObject({
      estimate: -3.1,
      low: -4.4,
      high: -1.8,
      outerLow: -5.4,
      outerHigh: -0.8,
      text: '−3.1',
      intervalText: '−5.4 to −0.8',
      muted: false,
    });
    const turned = differenceRow(setup, {
      ...context,
      display: { ...DEFAULT_PREFERENCES, consumption: 'km/kWh' },
    });
    // 1/(1 − 0.031) − 1 and 1/(1 − 0.008) − 1
    expect(turned.estimate).toBeCloseTo(3.199, 3);
    expect(turned.outerLow).toBeCloseTo(0.806, 3);
  });

  it('draws nothing where nothing may be said, and the baseline on its line', () => {
    const against = setup.against && {
      ...setup.against,
      percent: null,
      word: null,
      pointwise: null,
      simultaneous: null,
    };
    const refused = differenceRow({ ...setup, against }, context);
    expect(refused.estimate).toBeNaN();
    expect([refused.text, refused.intervalText]).toEqual(['–', 'none yet']);
    expect(differenceRow({ ...setup, setupId: 'base', against: null }, context)).toMatchObject({
      estimate: 0,
      muted: false,
    });
  });

  it('says what its layout leaves unseen: of runs of one car on one day, both', () => {
    const rows = [5, 5.01].map((z) => ({ setup: 'low', car: 'mine', session: 'today', z, u: 0.004 }));
    const label = fitGroup(rows).estimates[0]?.label ?? '';
    expect(label).toContain('one session');
    const caveat = consumptionRow({ ...setup, label }, context).caveat ?? '';
    expect(caveat).toContain('one day: how days differ is not seen in its runs');
    expect(caveat).toContain('one car: what is special about it cannot be told from what the setup does');
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
