import { describe, expect, it } from 'vitest';
import { airDensityCipm } from '@/lib/physics/air';
import { chargingCurve } from '@/lib/physics/estimate/chargingCurve';
import { conditionsAsked } from '@/lib/physics/estimate/conditionsAsked';
import { chargingTimeS } from '@/lib/physics/estimate/taper';
import { batteryAsked } from '@/lib/physics/estimate/tripPlan';
import { type EstimateAsked, parseEstimate } from '@/lib/run/estimate/parseEstimate';

function asked(form: Record<string, string> = {}): EstimateAsked {
  const parsed = parseEstimate(form);
  if (!parsed.ok) throw new Error('not as it should be');
  return parsed.asked;
}

describe('the conditions asked for', () => {
  it('are those of reference where nothing was said', () => {
    const { airTemperatureC, pressure, relativeHumidity, auxiliaryPowerW, netClimbM, wind } = conditionsAsked(
      asked(),
      30,
      false,
    );
    expect([airTemperatureC, auxiliaryPowerW, netClimbM, wind.speedMps]).toEqual([20, 500, 0, 0]);
    // UN GTR No. 15: 1.189 kg/m³ at 20 °C and 100 kPa
    expect(pressure).toEqual({ kind: 'station', pressurePa: 100_000 });
    expect(airDensityCipm(20, 100_000, relativeHumidity as number)).toBeCloseTo(1.189, 3);
  });

  it('turn the wind by where it comes from, and leave the cabin to its setting', () => {
    const from = (windFrom: string) =>
      conditionsAsked(asked({ windFrom, windSpeed: '5' }), 30, false).wind.fromDeg;
    const [{ bearingDeg } = { bearingDeg: Number.NaN }] = conditionsAsked(asked(), 30, false).route;
    expect(['ahead', 'behind', 'side', 'any'].map(from)).toEqual([
      bearingDeg,
      bearingDeg + 180,
      bearingDeg + 90,
      null,
    ]);
    const heated = conditionsAsked(asked({ climate: 'heating', altitude: '900', way: 'back' }), 30, true);
    expect(heated).toMatchObject({
      climate: 'heating',
      hasHeatPump: true,
      pressure: { kind: 'altitude', altitudeM: 900 },
      isThereAndBack: true,
    });
    expect(heated.auxiliaryPowerW).toBeUndefined();
  });
});

describe('the battery and charging asked for', () => {
  it('are unknown where nobody states a capacity, and those of a used battery where the model’s is known', () => {
    expect(batteryAsked(asked(), null, null)).toBeUndefined();
    const known = batteryAsked(asked({ air: '-5' }), 80_000, null);
    expect(known).toMatchObject({
      battery: { basis: 'new', capacityWh: 80_000 },
      // as cold as the air unless told
      batteryTemperatureC: -5,
      curveBasis: 'assumed',
    });
    expect(known?.plan.price).toBeUndefined();
    const own = batteryAsked(asked({ capacity: '70', capacityOff: '1', battery: '15' }), 80_000, null);
    expect(own).toMatchObject({
      battery: { basis: 'measured', capacityWh: 70_000, uWh: 1000 },
      batteryTemperatureC: 15,
    });
  });

  it('take one price for both where one is named, per watt-hour', () => {
    const priceOf = (form: Record<string, string>) => batteryAsked(asked(form), 80_000, null)?.plan.price;
    expect(priceOf({ homePrice: '0.3' })).toEqual({ startPerWh: 0.0003, onTheWayPerWh: 0.0003 });
    expect(priceOf({ homePrice: '0.3', wayPrice: '0.6' })).toEqual({
      startPerWh: 0.0003,
      onTheWayPerWh: 0.0006,
    });
  });

  it('charge by the stated curve, else by the assumed one on a stated or assumed peak, and by no more than the charger gives', () => {
    const points = [
      { charge: 0.1, powerW: 100_000 },
      { charge: 0.8, powerW: 50_000 },
    ];
    expect(chargingCurve({ points, peakPowerW: null }, 80_000)).toMatchObject({
      basis: 'stated',
      curve: { points },
    });
    expect(chargingCurve({ points: [], peakPowerW: 90_000 }, 80_000)).toMatchObject({
      basis: 'statedPeak',
      curve: { basis: 'assumed', points: [{ powerW: 90_000 }, {}, {}, {}] },
    });
    expect(chargingCurve(null, null)).toBeNull();
    const slow = batteryAsked(asked({ charger: '20' }), 80_000, { points, peakPowerW: null });
    if (slow === undefined) throw new Error('a capacity was given');
    // below the curve everywhere: 0.1 of 80 kWh at 20 kW is 24 min
    expect(chargingTimeS(slow.plan.curve, 80_000, 0.4, 0.5)).toBeCloseTo(1440, 6);
  });
});
