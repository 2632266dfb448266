import { describe, expect, it } from 'vitest';
import { issuesSoFar, liveChecks } from '@/app/(tester)/record/[runId]/liveChecks';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

const now = '2026-11-20T12:00:00.000Z';

describe('cross-checks while typing', () => {
  it('say nothing of an empty form', () => {
    expect(liveChecks({}, now, DEFAULT_PREFERENCES)).toEqual({ remarks: {}, disagreements: [], slips: [] });
  });

  // 65.8 mi ÷ 32.9 kWh = 2.00 mi/kWh: read off by hand.
  const agreeing = {
    tripDistance: '65.8',
    tripDistanceUnit: 'mi',
    tripEnergy: '32.9',
    tripEnergyUnit: 'kWh',
    tripEfficiency: '2.00',
    tripEfficiencyUnit: 'mi/kWh',
  };

  it('find agreeing readings in the display’s own units in order', () => {
    expect(liveChecks(agreeing, now, DEFAULT_PREFERENCES).disagreements).toEqual([]);
  });

  it('name the swapped digits beside the field that holds them', () => {
    const { remarks, disagreements, slips } = liveChecks(
      { ...agreeing, tripEnergy: '39.2' },
      now,
      DEFAULT_PREFERENCES,
    );
    expect(disagreements).toHaveLength(1);
    expect(slips.join(' ')).toContain('39.2 → 32.9');
    expect(remarks.tripEnergy?.join(' ')).toContain('39.2 → 32.9');
  });

  it('say numbers in the reader’s units and with their decimal mark', () => {
    const reader = { ...DEFAULT_PREFERENCES, consumption: 'mi/kWh', mark: 'comma' } as const;
    const { disagreements } = liveChecks({ ...agreeing, tripEnergy: '39.2' }, now, reader);
    // 65.75 mi ÷ 39.25 kWh and 65.85 ÷ 39.15 by hand; the display said 1.995 to 2.005.
    expect(disagreements[0]).toContain('is 1,675 to 1,682');
    expect(disagreements[0]).toContain('says 1,995 to 2,005');
  });

  it('tie the charge to the energy where the capacity is known', () => {
    // 40 points of 100 kWh are 40 kWh, not 20.
    const form = { chargeStart: '80', chargeEnd: '40', tripEnergy: '20.0', tripEnergyUnit: 'kWh' };
    expect(liveChecks(form, now, DEFAULT_PREFERENCES).disagreements).toEqual([]);
    expect(liveChecks(form, now, DEFAULT_PREFERENCES, 100_000).disagreements).toHaveLength(1);
    expect(
      liveChecks({ ...form, tripEnergy: '40.0' }, now, DEFAULT_PREFERENCES, 100_000).disagreements,
    ).toEqual([]);
  });

  it('remark on an impossible number, not on what is missing so far', () => {
    const issues = issuesSoFar({ tripDistance: '52700', chargeStart: 'eighty' }, now);
    expect(issues.map((issue) => issue.path).sort()).toEqual(['chargeStart', 'tripDistance']);
  });
});
