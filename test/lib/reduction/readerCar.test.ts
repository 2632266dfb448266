import { describe, expect, it } from 'vitest';
import { consumptionAt } from '@/lib/physics/estimate/consumptionAt';
import { readerCase } from '@/lib/physics/estimate/readerCase';
import { adoptedTerms } from '@/lib/reduction/adoptedTerms';
import { readerCar } from '@/lib/reduction/readerCar';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { type RunPart, readerParts, runParts } from '@/lib/reduction/runParts';
import { ENGINE, snapshotOf } from './exampleSnapshot';

const snapshot = snapshotOf();
const classMps = snapshot.cruiseClass.speedMps;

describe('another car of the model', () => {
  it('is laid out as the registry’s cars are: the same vehicle, from the same sources', () => {
    const { engineCase } = reduceRun(snapshot, ENGINE);
    const load = snapshot.record.readings.loadMass?.value;
    expect(readerCar(snapshot, undefined, load).vehicle).toEqual(engineCase.vehicle);
    expect(readerCar(snapshot, undefined, load).uncertainty?.massKg).toEqual(engineCase.uncertainty?.massKg);
    // a usual load of 90 kg, known to 70 (common practice, no source)
    expect(readerCar(snapshot, undefined, undefined)).toMatchObject({
      vehicle: { massKg: 2990 },
      uncertainty: { massKg: { u: 70, scope: 'model' } },
    });
  });

  it('shares by name what the model’s runs share, and brings a car, a day and a trip of its own', () => {
    const owners = { sessionId: 'day', carId: 'car', loopId: 'loop', modelId: 'model', setupId: 'setup' };
    const { normalisation } = reduceRun(snapshot, ENGINE).reduction;
    const nameOf = ({ input, scope, key }: RunPart) => `${scope} ${key} ${input}`;
    const behind = new Set(runParts(owners, normalisation).map(nameOf));
    const mine = { ...owners, sessionId: 'a day of mine', carId: 'my car', loopId: 'my road' };
    const asked = readerCase(
      readerCar(snapshot, undefined, undefined),
      {
        distanceM: 250_000,
        cruiseSpeedMps: classMps,
        airTemperatureC: 2,
        pressure: { kind: 'altitude', altitudeM: 100 },
        wind: { speedMps: 3, fromDeg: 40 },
        route: [{ bearingDeg: 90, lengthM: 250_000 }],
        isThereAndBack: false,
        netClimbM: 40,
        climate: 'heating',
        hasHeatPump: snapshot.model.hasHeatPump,
        traffic: 'moderate',
      },
      classMps,
    );
    const parts = readerParts(mine, consumptionAt(asked, 260, 'shown'), true);
    const [assumed, own] = [true, false].map((isAssumed) =>
      parts.filter(({ scope }) => (scope === 'model' || scope === 'method') === isAssumed),
    ) as [RunPart[], RunPart[]];
    const needed = ['massKg', 'dragAreaM2', 'rollingCoefficient', 'drivetrainEfficiency', 'yawDragPerRad2'];
    for (const input of needed) {
      const part = assumed.find((one) => one.input === input) as RunPart;
      expect(behind.has(nameOf(part))).toBe(true);
    }
    expect(own.map(({ input }) => input)).toEqual(
      expect.arrayContaining(['auxiliaryHabitW', 'auxiliaryPowerW', 'meanHeadwindMps', 'tyreWarmUpShare']),
    );
    for (const part of own) expect(behind.has(nameOf(part))).toBe(false);
  });

  it('takes the learned road load with its correlation where the method has adopted one', () => {
    const covariance = [
      [0.0004, -1e-6, 0],
      [-1e-6, 1e-8, 0],
      [0, 0, 400],
    ];
    const posterior = { mean: [1.2, 0.011, 500], covariance };
    const learned = adoptedTerms({ label: 'learned', runs: 30, posterior, levels: [] }, snapshot);
    const car = readerCar(snapshot, learned, 90);
    expect(car.vehicle.dragAreaM2).toBeCloseTo(1.2 * 0.9, 12);
    expect(car.correlations?.[0]?.coefficient).toBeCloseTo(-0.5, 12);
    expect(car.uncertainty?.dragAreaM2).toEqual({ u: expect.closeTo(0.018, 12), scope: 'model' });
  });
});
