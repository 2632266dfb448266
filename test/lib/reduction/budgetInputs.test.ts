import { describe, expect, it } from 'vitest';
import { airDensityCipm } from '@/lib/physics/air';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { runDistance } from '@/lib/reduction/runDistance';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import { calibrationOf, ENGINE, recordOf, type SnapshotChanges, snapshotOf } from './exampleSnapshot';

const caseOf = (changes: SnapshotChanges = {}) => reduceRun(snapshotOf(changes), ENGINE).engineCase;

describe('the mass as driven', () => {
  // 50 kg and 70 kg: common practice of the method, no source; what matters is that saying nothing knows less
  it('is known to 50 kg where the load is stated and to 70 kg where it is not', () => {
    const stated = caseOf();
    expect(stated.vehicle.massKg).toBe(2995);
    expect(stated.uncertainty?.massKg).toEqual({ u: 50, scope: 'model' });
    const unstated = caseOf({ form: { loadMass: '' } });
    expect(unstated.vehicle.massKg).toBe(2990);
    expect(unstated.uncertainty?.massKg).toEqual({ u: 70, scope: 'model' });
  });

  it('leaves a run with more uncertainty where the load is not stated', () => {
    const part = (form: SnapshotChanges['form']) => {
      const { normalisation } = reduceRun(snapshotOf({ form, loop: { netClimbM: 150 } }), ENGINE).reduction;
      if (normalisation.outcome !== 'normalised') throw new Error('outside reach');
      return normalisation.budget.find(({ input }) => input === 'massKg')?.contributionWhPerKm ?? 0;
    };
    // all but linear in the 70 kg to 50 kg of the two
    expect(part({ loadMass: '' }) / part({})).toBeCloseTo(1.4, 2);
  });
});

describe('a distance from two that disagree', () => {
  it('is as uncertain as they are apart: internal u times the Birge ratio, by hand', () => {
    const record = recordOf({ tripDistance: '107.4', tripDistanceUnit: 'km', odometerStart: '' });
    // true 106.756 km against 112 ± 1.5 km; u of the shown 0.05/√3 km · 0.994 and 0.1 %
    const odometer = calibrationOf({ instrument: 'odometer', factor: 0.994, standardUncertainty: 0.001 });
    const today = { ...odometer, measuredOn: record.localDate };
    const result = runDistance(record, { lengthM: 112_000, lengthUncertaintyM: 1500 }, [today]);
    const u = Math.hypot((50 / Math.sqrt(3)) * 0.994, 107.4);
    const birge = (112_000 - 106_755.6) / Math.hypot(1500, u);
    expect(birge).toBeGreaterThan(3);
    expect(result.uM).toBeCloseTo((birge * (1500 * u)) / Math.hypot(1500, u), 6);
    // R. T. Birge, Phys. Rev. 40 (1932) 207: never narrower than the two allow
    const agreeing = runDistance(record, { lengthM: 107_000, lengthUncertaintyM: 1500 }, [today]);
    expect(agreeing.uM).toBeCloseTo((1500 * u) / Math.hypot(1500, u), 6);
  });
});

describe('the wind that two legs imply', () => {
  const legs = [
    { direction: 'outbound', lengthM: 53_750, netClimbM: 0, bearings: [{ bearingDeg: 20, share: 1 }] },
    { direction: 'return', lengthM: 53_750, netClimbM: 0, bearings: [{ bearingDeg: 200, share: 1 }] },
  ];

  /** Readings all but without a rounding interval: nothing but the climb and the report is left uncertain. */
  function exact(snapshot: ReductionSnapshot): ReductionSnapshot {
    const readings = Object.fromEntries(
      Object.entries(snapshot.record.readings).map(([key, reading]) => [
        key,
        { ...reading, low: reading.value * (1 - 1e-9), high: reading.value * (1 + 1e-9) },
      ]),
    );
    return { ...snapshot, record: { ...snapshot.record, readings } };
  }

  it('carries five metres of the leg’s climb, in the wind that they stand for', () => {
    // legs of equal consumption on a calm day: neither drag nor efficiency has a part in a wind of nought
    const form = {
      outboundEnergy: '16.45',
      outboundDistance: '33.4',
      tripEfficiency: '',
      windSpeed: '0',
      windFrom: '',
    };
    const { engineCase, reduction } = reduceRun(exact(snapshotOf({ form, loop: { legs } })), ENGINE);
    const { airTemperatureC, pressurePa = 0, relativeHumidity = 0, cruiseSpeedMps } = engineCase.run;
    const density = airDensityCipm(airTemperatureC, pressurePa, relativeHumidity);
    // 4·m·g·Δh/D over 2·ρ·CdA·v with Δh = 5 m (method A4): 2995 kg, 107.5 km, the pick-up's prior of 1.1 m²
    const climb = (4 * 2995 * 9.80665 * 5) / 107_500 / (2 * density * 1.1 * cruiseSpeedMps);
    // a calm is known to 0.5 m/s at 10 m, two thirds of it at car height, from any side: 1/√2 of it along the leg
    const report = (0.66 * 0.5) / Math.SQRT2;
    expect(reduction.legWind?.impliedHeadwindMps).toBeCloseTo(0, 9);
    expect(reduction.legWind?.standardUncertaintyMps).toBeCloseTo(Math.hypot(climb, report), 6);
    expect(climb).toBeGreaterThan(0.05);
  });
});

describe('a wind along the road', () => {
  it('blows across it too, as far as its direction is uncertain by 15°', () => {
    const wind = (windFrom: string) => caseOf({ form: { windSpeed: '6', windFrom } }).run;
    // ⟨cos²⟩ of a direction error of 15°, by the trapezoidal rule over ±8σ, apart from the closed form of the method
    const sigma = (15 * Math.PI) / 180;
    let [sum, weight] = [0, 0];
    for (let z = -8; z <= 8; z += 0.001) {
      const density = Math.exp((-z * z) / 2);
      sum += density * Math.cos(z * sigma) ** 2;
      weight += density;
    }
    const squaredCosine = sum / weight;
    // component x, u = √((0.1/√3/0.66)² + 0.3²)·x ⊕ 0.66·0.5 m/s, rms = √(x² + u²)
    const rms = (component: number) =>
      Math.hypot(component, (0.1 / Math.sqrt(3) / 0.66) * component, 0.3 * component, 0.66 * 0.5);
    const along = wind('20');
    expect(along.alongWindMps).toBeCloseTo(rms(0.66 * 6 * Math.sqrt(squaredCosine)), 9);
    expect(along.crossWindMps).toBeCloseTo(rms(0.66 * 6 * Math.sqrt(1 - squaredCosine)), 9);
    expect(wind('110').alongWindMps).toBeCloseTo(along.crossWindMps, 9);
  });
});
