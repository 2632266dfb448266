import { describe, expect, it } from 'vitest';
import { otherModel, otherSetup } from '@/lib/openData/other/names';
import { otherAgainst, otherContrast, otherRanked } from '@/lib/openData/other/ranked';

const model = { model_id: '0190-0000-aaaa1111', model_year: 2025, body_class: 'pickup' };
const levels = [
  {
    setup_id: 'low',
    factor: 'rideHeight',
    level_id: '0190-0000-bbbb2222',
    is_baseline: false,
    shared_level: null,
  },
];
const things = {
  setups: new Map([
    ['base', { setup_id: 'base', model_id: model.model_id }],
    ['low', { setup_id: 'low', model_id: model.model_id }],
    ['lost', { setup_id: 'lost', model_id: 'nowhere' }],
  ]),
  levels: new Map([['low', levels]]),
  models: new Map([[model.model_id, model]]),
};

const estimate = (setup_id: string, value: number) => ({
  setup_id,
  runs: 6,
  cars: 3,
  testers: 2,
  loops: 1,
  days: 2,
  estimate_wh_per_km: value,
  low_wh_per_km: value - 2,
  high_wh_per_km: value + 2,
  interval_kind: 'model',
  raw_mean_wh_per_km: value + 10,
  is_ranked: true,
  label: null,
  missing: [],
  rank_lower: 1,
  rank_upper: 2,
  chance_of_lowest: 0.5,
  component: 0,
  rests_on: ['0190-0000-cccc3333'],
  without: null,
});

describe('names of another registry’s things', () => {
  it('are made of what they are and the end of their identifier', () => {
    expect(otherModel(model)).toBe('Pick-up of 2025 (aaaa1111)');
    expect(otherSetup(levels)).toBe('Ride height: level bbbb2222');
    expect(otherSetup([{ ...levels[0], shared_level: 'lowest-step' }])).toBe('Ride height: lowest step');
    expect(otherSetup([{ ...levels[0], is_baseline: true }])).toBe('As delivered');
    expect(otherSetup([])).toBe('As delivered');
  });
});

describe('another registry’s setups', () => {
  const rows = otherRanked([estimate('base', 200), estimate('low', 190), estimate('lost', 1)], things);

  it('stand as they were published, the lowest first; one without a model is left out', () => {
    expect(rows.map(({ setupId, estimateWhPerKm }) => [setupId, estimateWhPerKm])).toEqual([
      ['low', 190],
      ['base', 200],
    ]);
    expect(rows[0]).toMatchObject({ lowWhPerKm: 188, rankUpper: 2, label: '', slug: 'low' });
  });

  it('know their model as delivered, and testers by pseudonyms', () => {
    expect(rows.map(({ baseline }) => baseline?.setupId)).toEqual(['base', 'base']);
    expect(rows[0]?.held.restsOn).toEqual(['tester cccc3333']);
  });

  it('are held against it by the published difference, whichever way round it stands', () => {
    const fit = {
      least_cars: 2,
      variance_car: 1e-4,
      variance_car_loop: 0,
      variance_session: 1e-4,
      variance_run: 1e-4,
      origins: { car: 'own', carLoop: 'none', session: 'own', residual: 'assumed' },
    };
    const stored = {
      cruise_class: 'kmh-110',
      setup_a: 'base',
      setup_b: 'low',
      kind: 'session',
      chain_length: 1,
      difference_log: 0.05,
      log_se: 0.01,
      dof: 9,
      low_log: 0.03,
      high_log: 0.07,
      simultaneous_low_log: 0.01,
      simultaneous_high_log: 0.09,
      model_low_log: 0.02,
      model_high_log: 0.08,
      word: 'settled',
      shared_u_log: null,
      reason: null,
      rests_on: [],
    };
    const [low] = rows.map((row) => otherAgainst(row, [otherContrast(stored)], fit));
    expect(low?.against?.percent).toBeCloseTo(100 * Math.expm1(-0.05), 12);
    expect(low?.against?.simultaneous?.[1]).toBeCloseTo(100 * Math.expm1(-0.01), 12);
    expect(low?.against).toMatchObject({
      word: 'settled',
      isAssumed: true,
      moreSessions: null,
      restsOnOne: false,
    });
    const [none] = rows.map((row) => otherAgainst(row, [], fit));
    expect(none?.against?.percent).toBeNull();
    expect(none?.against?.refusal).toMatch(/not among the published/);
  });
});
