import { describe, expect, it } from 'vitest';
import { SurestAnswer } from '@/app/(public)/factors/SurestAnswer';
import { RankingAnswer } from '@/app/(public)/rankings/RankingAnswer';
import type { FactorEffect, ModelAnswer, PooledAnswer } from '@/lib/registry/factors/effects';
import type { RankedSetup } from '@/lib/registry/rankings/rankedSetup';
import type { RankingView } from '@/lib/registry/rankings/rankings';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { render, textOf } from '../ui/markup';
import { setup } from './rankedSample';

const { against, baseline } = setup;
if (against === null || baseline === null) throw new Error('the sample is held against its baseline');

const numbers = against;
const sure: Partial<typeof numbers> = { percent: -2, pointwise: [-2.5, -1.5] };
const larger: Partial<typeof numbers> = { percent: -6, pointwise: [-9, -2.9] };
const costlier: Partial<typeof numbers> = { percent: 7, pointwise: [6.5, 7.5] };

describe('how the rankings open', () => {
  const ranked = (of: string, changed: Partial<typeof numbers>): RankedSetup => ({
    ...setup,
    slug: of,
    model: of,
    against: { ...numbers, ...changed },
  });
  const opening = (rows: readonly RankedSetup[], plain: RankingView['plain'] = null) =>
    textOf(
      render(
        <RankingAnswer
          view={{ ranked: [...rows], plain, classLabel: '110 km/h' }}
          display={DEFAULT_PREFERENCES}
        />,
      ),
    );

  it('with the saving that is surest, not with the largest, nor with what costs more', () => {
    const text = opening([ranked('Cape', larger), ranked('Firth', sure), ranked('Sound', costlier)]);
    expect(text).toContain('The surest saving below, at 110 km/h: Firth');
    expect(text).toContain('Low ride height');
    expect(text).not.toMatch(/Cape|Sound/);
  });

  it('with the surest difference where nothing saves, and with none where nothing is sure', () => {
    expect(opening([ranked('Sound', costlier)])).toContain('The surest difference below, at 110 km/h: Sound');
    expect(opening([ranked('Cape', { ...larger, word: 'leaning' })])).toBe('');
    expect(opening([])).toBe('');
  });

  it('with none above plain means, which are not held against one another', () => {
    const raw = { isRaw: true, temperature: undefined, protocol: undefined };
    expect(opening([ranked('Firth', sure)], raw)).toBe('');
  });
});

describe('how the factors open', () => {
  const ofModel = (model: string, changed: Partial<typeof numbers>): ModelAnswer => ({
    ...numbers,
    ...changed,
    setup: { setupId: model, slug: model, title: 'Low' },
    baseline: { setupId: `${model}-plain`, slug: `${model}-plain`, title: 'As delivered' },
    model,
    modelSlug: model,
    baselineWhPerKm: 190,
    onTripWh: null,
  });
  const pooled: PooledAnswer = {
    ...numbers,
    ...larger,
    models: 3,
    further: null,
    baselineWhPerKm: 190,
    onTripWh: { difference: -1100, low: -1600, high: -500 },
  };
  const effect = (models: ModelAnswer[], together: PooledAnswer | null): FactorEffect => ({
    factor: 'rideHeight',
    levelId: 'low',
    level: 'low',
    baseline: 'normal',
    models,
    of: models.length,
    pooled: together,
  });
  const opening = (factors: readonly FactorEffect[]) =>
    textOf(
      render(
        <SurestAnswer
          factors={[{ key: 'rideHeight', label: 'Ride height', isMapped: true, effects: [...factors] }]}
          classLabel="110 km/h"
          display={DEFAULT_PREFERENCES}
        />,
      ),
    );

  it('with the surest of all, and what models say together stands for each of them', () => {
    const alone = effect([ofModel('Firth', sure)], null);
    const together = effect([ofModel('Cape', costlier), ofModel('Sound', costlier)], pooled);
    expect(opening([together, alone])).toContain('The surest answer at 110 km/h: Firth');
    expect(opening([together])).toContain('The surest answer at 110 km/h: three models together');
  });

  it('with none where nothing is sure', () => {
    expect(opening([effect([ofModel('Firth', { ...sure, word: 'undecided' })], null)])).toBe('');
  });
});
