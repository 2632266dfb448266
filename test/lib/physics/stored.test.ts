import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normaliseRun } from '@/lib/physics/normalise';
import { reconcileEnergy } from '@/lib/physics/reconcile';
import {
  readCase,
  readChargingPoints,
  readNormalisation,
  storedBelief,
  storedEnergy,
} from '@/lib/physics/stored';
import { exampleCase } from './exampleCase';

const throughJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));
const normalised = normaliseRun(exampleCase());
const { run, ...others } = exampleCase();
const outside = normaliseRun({ ...others, run: { ...run, airTemperatureC: -40 } });

describe('a stored result of the engine', () => {
  it('is read as it was written, within the reach of the method and outside it', () => {
    expect(normalised.outcome).toBe('normalised');
    expect(readNormalisation(throughJson(normalised))).toEqual(throughJson(normalised));
    expect(outside.outcome).toBe('outsideReach');
    expect(readNormalisation(throughJson(outside))).toEqual(throughJson(outside));
  });

  it('has infinitely many degrees of freedom where JSON had no number for them', () => {
    const read = readNormalisation(throughJson({ ...normalised, effectiveDof: Number.POSITIVE_INFINITY }));
    expect(read).toEqual({ ...(throughJson(normalised) as object), effectiveDof: Number.POSITIVE_INFINITY });
  });

  it('of an older kind has no findings and no correlations, and keeps nothing that nobody knows', () => {
    const { findings: _, ...older } = normalised;
    expect(readNormalisation(throughJson({ ...older, colour: 'grey' }))).toEqual(
      throughJson({ ...normalised, findings: [] }),
    );
  });

  it('of the first version of the method knows no scope of the method, and a sum of slow-downs that is no input now', () => {
    if (normalised.outcome !== 'normalised') throw new Error('outside reach');
    const { method: _, ...uByScope } = normalised.uByScope;
    const budget = [{ ...normalised.budget[0], input: 'squaredSpeedDropM2S2', scope: 'run' }];
    const older = throughJson({ ...normalised, methodVersion: '1+priors1', uByScope, budget });
    expect(readNormalisation(older)).toEqual(older);
  });

  it('without its number is not read', () => {
    expect(readNormalisation({ ...normalised, normalisedWhPerKm: null })).toBeUndefined();
    expect(readNormalisation({ ...normalised, outcome: 'perhaps' })).toBeUndefined();
  });

  it('never makes its reader throw, whichever part is something else', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(...Object.keys(normalised)), (value, key) => {
        readNormalisation(value);
        const read = readNormalisation({ ...normalised, [key]: value });
        expect(read === undefined || Number.isFinite(read.measuredWhPerKm)).toBe(true);
      }),
    );
  });
});

describe('a stored case', () => {
  it('is read as it was given, and not with something in it that the engine does not know', () => {
    expect(readCase(throughJson(exampleCase()))).toEqual(exampleCase());
    expect(readCase({ ...exampleCase(), slope: 2 })).toBeUndefined();
  });

  it('never makes its reader throw', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom('vehicle', 'run', 'uncertainty'), (value, key) => {
        readCase(value);
        const read = readCase({ ...exampleCase(), [key]: value });
        expect(read === undefined || 'run' in read).toBe(true);
      }),
    );
  });
});

it('reconciled energy is read as it was written', () => {
  const one = { label: 'energy shown', energyWh: 17_000, uWh: 30, isCounter: true };
  for (const readings of [[one], [one, { label: 'charger', energyWh: 18_000, uWh: 40, isCounter: false }]]) {
    const energy = reconcileEnergy(readings);
    expect(storedEnergy.parse(throughJson(energy))).toEqual(energy);
  }
});

it('energy of the first version of the method, which averaged all its readings, is read as such', () => {
  const energy = reconcileEnergy([{ label: 'energy shown', energyWh: 17_000, uWh: 30, isCounter: true }]);
  const readings = energy.readings.map(({ isCounter: _, isAveraged: __, ...older }) => older);
  expect(storedEnergy.parse(throughJson({ ...energy, readings })).readings[0]?.isAveraged).toBe(true);
});

it('a belief of another size than three terms is none', () => {
  const row = [1, 0, 0];
  expect(storedBelief.safeParse({ mean: row, covariance: [row, row, row] }).success).toBe(true);
  expect(storedBelief.safeParse({ mean: [1, 0], covariance: [row, row, row] }).success).toBe(false);
  expect(storedBelief.safeParse({ mean: row, covariance: [row, row] }).success).toBe(false);
});

describe('points of a charging curve', () => {
  const points = [
    { charge: 0, powerW: 90_000 },
    { charge: 0.5, powerW: 120_000 },
    { charge: 1, powerW: 9000 },
  ];

  it('are read as they were written, and none are where a peak alone was stated', () => {
    expect(readChargingPoints(throughJson(points))).toEqual(points);
    expect(readChargingPoints([{ ...points[0], of: 'a sheet' }, points[1]])).toEqual(points.slice(0, 2));
    expect(readChargingPoints([])).toEqual([]);
  });

  it('are read whole or not at all', () => {
    for (const odd of [points.slice(0, 1), points.toReversed(), [...points, { charge: 1.2, powerW: 1 }]])
      expect(readChargingPoints(odd)).toBeUndefined();
    for (const odd of [{ charge: 0.7 }, { charge: 0.7, powerW: 0 }, { charge: 0.7, powerW: null }, 7])
      expect(readChargingPoints([points[0], odd, points[2]])).toBeUndefined();
  });

  it('never make their reader throw', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom('charge', 'powerW'), (value, key) => {
        expect([undefined, 0]).toContain(readChargingPoints(value)?.length);
        const read = readChargingPoints([points[0], { ...points[1], [key]: value }]);
        expect(read === undefined || (read[1]?.powerW ?? 0) > 0).toBe(true);
      }),
    );
  });
});
