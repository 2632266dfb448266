import { describe, expect, it } from 'vitest';
import {
  baselineOf,
  differingFactors,
  fullLevels,
  levelsByFactor,
  singleFactorChanges,
} from '@/lib/run/setupLevels';

const modelLevels = [
  { factor: 'rideHeight', key: 'normal', label: 'Normal', isBaseline: true },
  { factor: 'rideHeight', key: 'low', label: 'Low', isBaseline: false },
  { factor: 'driveMode', key: 'standard', label: 'Standard', isBaseline: true },
  { factor: 'driveMode', key: 'eco', label: 'Eco', isBaseline: false },
  { factor: 'load', key: 'full', label: 'Full', isBaseline: false },
];
const low = fullLevels(
  { levels: [{ factor: 'rideHeight', level: { key: 'low', label: 'Low', isBaseline: false } }] },
  modelLevels,
);
const delivered = fullLevels({ levels: [] }, modelLevels);

describe('the levels of a setup', () => {
  it('are as delivered in every factor that the setup does not name', () => {
    expect(low.map((level) => `${level.factorLabel}: ${level.label}`)).toEqual([
      'Drive mode: Standard',
      'Ride height: Low',
    ]);
    expect(delivered.every((level) => level.isAsDelivered)).toBe(true);
  });

  it('leave out a factor of which neither setup nor model says where it stands', () => {
    expect(low.some((level) => level.factor === 'load')).toBe(false);
  });

  it('differ where the keys differ, from either side', () => {
    expect(differingFactors(delivered, low)).toEqual(['rideHeight']);
    expect(differingFactors(low, delivered)).toEqual(['rideHeight']);
    expect(differingFactors(low, low)).toEqual([]);
  });

  it('tell the setups that are one factor away from the baseline, and where each stands on it', () => {
    const both = fullLevels(
      {
        levels: [
          { factor: 'rideHeight', level: { key: 'low', label: 'Low', isBaseline: false } },
          { factor: 'driveMode', level: { key: 'eco', label: 'Eco', isBaseline: false } },
        ],
      },
      modelLevels,
    );
    const baseline = { name: 'delivered', levels: delivered };
    const setups = [baseline, { name: 'low', levels: low }, { name: 'low and eco', levels: both }];
    expect(singleFactorChanges(baseline, setups)).toMatchObject([
      {
        setup: { name: 'low' },
        factor: 'rideHeight',
        factorLabel: 'Ride height',
        from: { label: 'Normal' },
        to: { label: 'Low' },
      },
    ]);
    expect(levelsByFactor(both)).toEqual({ driveMode: 'eco', rideHeight: 'low' });
  });

  it('choose the baseline: as delivered, or else the setup with most runs', () => {
    const setups = [
      { name: 'low', levels: low, runs: 9 },
      { name: 'delivered', levels: delivered, runs: 1 },
    ];
    expect(baselineOf(setups)?.name).toBe('delivered');
    expect(baselineOf(setups.slice(0, 1))?.name).toBe('low');
    expect(baselineOf([])).toBeUndefined();
  });
});
