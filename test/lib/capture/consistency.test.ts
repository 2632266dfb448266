import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkConsistency, inconsistentChecks } from '@/lib/capture/consistency';
import { checkRules } from '@/lib/capture/consistencyRules';
import { exactly, type Interval, type Readings, scaleInterval, withHalfDigit } from '@/lib/capture/readings';

// International mile, exact since 1959 (NIST SP 811, appendix B.8).
const mileM = 1609.344;
const miles = (value: number, half: number) => scaleInterval(withHalfDigit(value, half), mileM);
const kwh = (value: number, half: number) => scaleInterval(withHalfDigit(value, half), 1000);
const mph = (value: number, half: number) => scaleInterval(withHalfDigit(value, half), mileM / 3600);
const minutes = (value: number, half: number) => scaleInterval(withHalfDigit(value, half), 60);
/** mi/kWh is a reciprocal of Wh/km, so the ends change places. */
const milesPerKwh = (value: number, half: number): Interval => {
  const toWhPerKm = (q: number) => 1000 / (q * (mileM / 1000));
  return { value: toWhPerKm(value), low: toWhPerKm(value + half), high: toWhPerKm(value - half) };
};

const outcomeOf = (readings: Readings, id: string) =>
  checkConsistency(readings).find((check) => check.id === id)?.outcome;

describe('checkConsistency on display readings (common practice, no source)', () => {
  it('accepts 66.8 mi, 32.9 kWh and 2.03 mi/kWh', () => {
    const readings = {
      distanceM: miles(66.8, 0.05),
      energyWh: kwh(32.9, 0.05),
      consumptionWhPerKm: milesPerKwh(2.03, 0.005),
    };
    expect(outcomeOf(readings, 'efficiency')).toBe('consistent');
  });

  it('makes 2.16 mi/kWh of 66.8 mi and 30.9 kWh, and neither 2.14 nor 2.18', () => {
    const base = { distanceM: miles(66.8, 0.05), energyWh: kwh(30.9, 0.05) };
    const at = (shown: number) =>
      outcomeOf({ ...base, consumptionWhPerKm: milesPerKwh(shown, 0.005) }, 'efficiency');
    expect(at(2.16)).toBe('consistent');
    expect(at(2.14)).toBe('inconsistent');
    expect(at(2.18)).toBe('inconsistent');
  });

  it('flags 2.30 mi/kWh beside 66.8 mi and 32.9 kWh', () => {
    const readings = {
      distanceM: miles(66.8, 0.05),
      energyWh: kwh(32.9, 0.05),
      consumptionWhPerKm: milesPerKwh(2.3, 0.005),
    };
    const failed = inconsistentChecks(checkConsistency(readings));
    expect(failed.map((check) => check.id)).toEqual(['efficiency']);
    expect(failed[0]?.sentence).toContain('No rounding explains the difference.');
  });

  it('makes a mean of 65 to 66 mph of 66.8 mi in 61 min', () => {
    const base = { distanceM: miles(66.8, 0.05), durationS: minutes(61, 0.5) };
    const at = (shown: number) => outcomeOf({ ...base, meanSpeedMps: mph(shown, 0.5) }, 'meanSpeed');
    expect(at(65)).toBe('consistent');
    expect(at(66)).toBe('consistent');
    expect(at(63)).toBe('inconsistent');
    expect(at(68)).toBe('inconsistent');
  });

  it('sees about 8 % of loss in 35.8 kWh from the charger for 32.9 kWh driven', () => {
    const readings = { chargerEnergyWh: kwh(35.8, 0.05), energyWh: kwh(32.9, 0.05) };
    const check = checkConsistency(readings).find((c) => c.id === 'chargerEnergy');
    expect(check?.outcome).toBe('consistent');
    expect(check?.sentence).toContain('charging loss is 8\u202F%');
  });

  it('refuses a charger that gave less than was driven, and one that lost a quarter', () => {
    expect(outcomeOf({ chargerEnergyWh: kwh(32.0, 0.05), energyWh: kwh(32.9, 0.05) }, 'chargerEnergy')).toBe(
      'inconsistent',
    );
    expect(outcomeOf({ chargerEnergyWh: kwh(44.3, 0.05), energyWh: kwh(32.9, 0.05) }, 'chargerEnergy')).toBe(
      'inconsistent',
    );
  });

  it('compares charge drop times capacity with the energy', () => {
    // 42 points of 78.5 kWh are 32.97 kWh; each reading is worth half a point either way.
    const base = {
      chargeStart: withHalfDigit(0.9, 0.005),
      usableCapacityWh: exactly(78_500),
      energyWh: kwh(32.9, 0.05),
    };
    expect(outcomeOf({ ...base, chargeEnd: withHalfDigit(0.48, 0.005) }, 'chargeDrop')).toBe('consistent');
    expect(outcomeOf({ ...base, chargeEnd: withHalfDigit(0.43, 0.005) }, 'chargeDrop')).toBe('inconsistent');
  });

  it('holds the mean speed below the cruise speed, and turnaround readings below totals', () => {
    const readings: Readings = {
      distanceM: miles(66.8, 0.05),
      durationS: minutes(61, 0.5),
      cruiseSpeedMps: mph(60, 0.5),
      meanSpeedMps: mph(65, 0.5),
      energyWh: kwh(32.9, 0.05),
      outboundEnergyWh: kwh(33.3, 0.05),
      outboundDistanceM: miles(67.0, 0.05),
      outboundDurationS: minutes(63, 0.5),
      chargeStart: exactly(0.5),
      chargeTurnaround: exactly(0.6),
      chargeEnd: exactly(0.7),
    };
    expect(inconsistentChecks(checkConsistency(readings)).map((check) => check.id)).toEqual([
      'meanBelowCruise',
      'shownMeanBelowCruise',
      'finishChargeBelowStart',
      'turnaroundChargeBelowStart',
      'finishChargeBelowTurnaround',
      'turnaroundEnergy',
      'turnaroundDistance',
      'turnaroundTime',
    ]);
  });

  it('compares the odometer difference with the trip, at whole kilometres', () => {
    const base = {
      odometerStartM: withHalfDigit(12_345_000, 500),
      distanceM: withHalfDigit(107_000, 50),
    };
    expect(outcomeOf({ ...base, odometerEndM: withHalfDigit(12_452_000, 500) }, 'odometer')).toBe(
      'consistent',
    );
    expect(outcomeOf({ ...base, odometerEndM: withHalfDigit(12_455_000, 500) }, 'odometer')).toBe(
      'inconsistent',
    );
  });
});

describe('checkConsistency in general', () => {
  it('gives every check an id of its own and answers each, missing readings by name', () => {
    const checks = checkConsistency({});
    expect(new Set(checks.map((check) => check.id)).size).toBe(checkRules.length);
    expect(checks.every((check) => check.outcome === 'notChecked' && check.numbers === null)).toBe(true);
    expect(checks[0]?.sentence).toBe('Not checked: no reading of distance, energy, shown efficiency.');
  });

  it('does not divide by a distance that may be zero, nor use a reading that is not a number', () => {
    const readings = { energyWh: kwh(1, 0.05), consumptionWhPerKm: exactly(200) };
    expect(outcomeOf({ ...readings, distanceM: withHalfDigit(0, 50) }, 'efficiency')).toBe('notChecked');
    expect(outcomeOf({ ...readings, distanceM: exactly(Number.NaN) }, 'efficiency')).toBe('notChecked');
  });

  it('never flags readings rounded from one true run', () => {
    const round = (value: number, step: number) => withHalfDigit(Math.round(value / step) * step, step / 2);
    fc.assert(
      fc.property(
        fc.double({ min: 5_000, max: 400_000, noNaN: true }),
        fc.double({ min: 90, max: 600, noNaN: true }),
        fc.double({ min: 10, max: 40, noNaN: true }),
        fc.double({ min: 0.86, max: 0.97, noNaN: true }),
        fc.constantFrom(10, 100, 1000),
        (distanceM, whPerKm, speedMps, efficiency, step) => {
          const energyWh = (whPerKm * distanceM) / 1000;
          const failed = inconsistentChecks(
            checkConsistency({
              distanceM: round(distanceM, step),
              energyWh: round(energyWh, step),
              consumptionWhPerKm: round(whPerKm, 1),
              durationS: round(distanceM / speedMps, 60),
              meanSpeedMps: round(speedMps, 0.1),
              cruiseSpeedMps: round(speedMps * 1.02, 0.1),
              chargerEnergyWh: round(energyWh / efficiency, step),
              outboundEnergyWh: round(energyWh * 0.5, step),
              outboundDistanceM: round(distanceM * 0.5, step),
              odometerStartM: round(12_345_678, 1000),
              odometerEndM: round(12_345_678 + distanceM, 1000),
            }),
          );
          expect(failed).toEqual([]);
        },
      ),
    );
  });

  it('flags an energy reading moved well past its rounding', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 50_000, max: 200_000, noNaN: true }),
        fc.double({ min: 100, max: 400, noNaN: true }),
        fc.constantFrom(0.9, 1.1),
        (distanceM, whPerKm, factor) => {
          const energyWh = ((whPerKm * distanceM) / 1000) * factor;
          const readings = {
            distanceM: withHalfDigit(distanceM, 50),
            energyWh: withHalfDigit(energyWh, 50),
            consumptionWhPerKm: withHalfDigit(whPerKm, 0.5),
          };
          expect(outcomeOf(readings, 'efficiency')).toBe('inconsistent');
        },
      ),
    );
  });
});
