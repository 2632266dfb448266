import { describe, expect, it } from 'vitest';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { normaliseRun } from '@/lib/physics/normalise';
import { exampleCase } from './exampleCase';

function reasonsFor(changes: Partial<NormalisationCase['run']>): string[] {
  const base = exampleCase();
  const result = normaliseRun({ ...base, run: { ...base.run, ...changes } });
  if (result.outcome === 'normalised') return [];
  expect(result).not.toHaveProperty('normalisedWhPerKm');
  expect(result.measuredWhPerKm).toBeGreaterThan(0);
  for (const reason of result.reach.reasons) expect(reason.message).toMatch(/^[A-Z−\-\d].*\.$/);
  return result.reach.reasons.map((reason) => reason.code);
}

describe('the edge of the method', () => {
  it.each<[string, Partial<NormalisationCase['run']>, string[]]>([
    ['rain', { conditions: { precipitation: 'rain' } }, ['precipitation']],
    ['snow', { conditions: { precipitation: 'snow' } }, ['precipitation']],
    ['a wet road', { conditions: { roadSurface: 'wet' } }, ['roadSurface']],
    ['a damp road', { conditions: { roadSurface: 'damp' } }, []],
    ['−20 °C', { airTemperatureC: -20 }, []],
    ['−20.1 °C', { airTemperatureC: -20.1 }, ['cold']],
    ['45 °C', { airTemperatureC: 45 }, []],
    ['45.1 °C', { airTemperatureC: 45.1 }, ['hot']],
    ['8 m/s at car height', { alongWindMps: 8, crossWindMps: 0 }, []],
    ['8.1 m/s at car height', { alongWindMps: 0, crossWindMps: -8.1 }, ['wind']],
    ['10 km/h below the class', { cruiseSpeedMps: 100 / 3.6 }, []],
    ['10.1 km/h below the class', { cruiseSpeedMps: 99.9 / 3.6 }, ['cruiseSpeed']],
    ['10.1 km/h above the class', { cruiseSpeedMps: 120.1 / 3.6, durationS: 3200 }, ['cruiseSpeed']],
    ['auxiliary power beyond the energy', { auxiliaryPowerW: 20_000, energyWh: 18_000 }, ['noRoadLoad']],
    [
      'several at once',
      { conditions: { precipitation: 'rain', roadSurface: 'wet' }, airTemperatureC: -30 },
      ['precipitation', 'roadSurface', 'cold'],
    ],
  ])('%s', (_, changes, expected) => {
    expect(reasonsFor(changes)).toEqual(expected);
  });

  it('a result whose interval reaches below zero is a failed reading, one that just stays above is not', () => {
    const withEnergyU = (u: number) => normaliseRun({ ...exampleCase(), uncertainty: { energyWh: { u } } });
    // 17 kWh ± 1.96 u reaches 0 at about 8.7 kWh; the parts that the energy does not scale bring it a little sooner
    expect(withEnergyU(7000).outcome).toBe('normalised');
    const failed = withEnergyU(9000);
    expect(failed.outcome === 'outsideReach' ? failed.reach.reasons.map(({ code }) => code) : []).toEqual([
      'belowZero',
    ]);
  });
});
