import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkConsistency, inconsistentChecks } from '@/lib/capture/consistency';
import { findMisreads, readTyped, type TypedReadings } from '@/lib/capture/misread';
import { exactly } from '@/lib/capture/readings';

const texts = (typed: TypedReadings) =>
  findMisreads(typed).map(({ reading, to }) => `${reading} ${to.text} ${to.unit}`);

describe('findMisreads (check values: common practice, no source)', () => {
  it('offers 2.03 for a shown 2.30 beside 66.8 mi and 32.9 kWh, as swapped digits and first', () => {
    const [first] = findMisreads({
      distanceM: { text: '66.8', unit: 'mi' },
      energyWh: { text: '32.9', unit: 'kWh' },
      consumptionWhPerKm: { text: '2.30', unit: 'mi/kWh' },
    });
    expect(first).toMatchObject({ reading: 'consumptionWhPerKm', kind: 'swappedDigits', rank: 1 });
    expect(first?.to.text).toBe('2.03');
  });

  it('names the distance when both the efficiency and the mean speed disagree with it', () => {
    const found = findMisreads({
      distanceM: { text: '66.8', unit: 'mi' },
      energyWh: { text: '32.9', unit: 'kWh' },
      consumptionWhPerKm: { text: '2.00', unit: 'mi/kWh' },
      durationS: { text: '61', unit: 'min' },
      meanSpeedMps: { text: '64.7', unit: 'mph' },
    });
    // 65.8/32.9 is 2.00; 66.0 and 66.1 would also just do: 65.95/32.95 and 66.05/32.95 are below 2.005.
    expect(found.map(({ sentence }) => sentence)).toEqual([
      'Probably misread: distance 66.8 → 65.8.',
      'Possibly misread: distance 66.8 → 66.0.',
      'Possibly misread: distance 66.8 → 66.1.',
    ]);
  });

  it('finds kWh typed for Wh, and Wh for kWh', () => {
    const base = {
      distanceM: { text: '107.0', unit: 'km' },
      consumptionWhPerKm: { text: '19.5', unit: 'kWh/100km' },
    } as const;
    expect(texts({ ...base, energyWh: { text: '20870', unit: 'kWh' } })).toContain('energyWh 20870 Wh');
    expect(texts({ ...base, energyWh: { text: '20.9', unit: 'Wh' } })[0]).toBe('energyWh 20.9 kWh');
  });

  it('finds miles typed as kilometres', () => {
    const found = findMisreads({
      distanceM: { text: '66.8', unit: 'km' },
      durationS: { text: '61', unit: 'min' },
      meanSpeedMps: { text: '65', unit: 'mph' },
      energyWh: { text: '32.9', unit: 'kWh' },
      consumptionWhPerKm: { text: '2.03', unit: 'mi/kWh' },
    });
    expect(found[0]?.sentence).toBe('Probably misread: distance 66.8 km → 66.8 mi.');
  });

  it('finds a missing decimal mark', () => {
    const found = findMisreads({
      distanceM: { text: '668', unit: 'mi' },
      durationS: { text: '1:01', unit: 'h' },
      meanSpeedMps: { text: '65', unit: 'mph' },
      energyWh: { text: '32.9', unit: 'kWh' },
      consumptionWhPerKm: { text: '2.03', unit: 'mi/kWh' },
    });
    expect(found[0]).toMatchObject({ reading: 'distanceM', kind: 'decimalMark', to: { text: '66.8' } });
  });

  it('uses what is known of the car, which was not typed and is never the suspect', () => {
    const found = findMisreads(
      {
        chargeStart: { text: '90', unit: '%' },
        chargeEnd: { text: '84', unit: '%' },
        energyWh: { text: '32.9', unit: 'kWh' },
      },
      { usableCapacityWh: exactly(78_000) },
    );
    expect(found.map(({ reading }) => reading)).not.toContain('usableCapacityWh');
    expect(found[0]).toMatchObject({ reading: 'chargeEnd', kind: 'swappedDigits', to: { text: '48' } });
  });

  it('offers nothing when all agree, and nothing when two readings that share no check are wrong', () => {
    const right = {
      distanceM: { text: '66.8', unit: 'mi' },
      energyWh: { text: '32.9', unit: 'kWh' },
      consumptionWhPerKm: { text: '2.03', unit: 'mi/kWh' },
    } as const;
    expect(findMisreads(right)).toEqual([]);
    const twoWrong = findMisreads({
      ...right,
      consumptionWhPerKm: { text: '5.37', unit: 'mi/kWh' },
      chargerEnergyWh: { text: '95.1', unit: 'kWh' },
    });
    expect(twoWrong.every(({ reading }) => reading === 'energyWh')).toBe(true);
    expect(
      findMisreads({
        ...right,
        consumptionWhPerKm: { text: '5.37', unit: 'mi/kWh' },
        odometerStartM: { text: '1000', unit: 'mi' },
        odometerEndM: { text: '1090', unit: 'mi' },
        chargerEnergyWh: { text: '95.1', unit: 'kWh' },
      }),
    ).toEqual([]);
  });
});

describe('readTyped', () => {
  it('keeps the rounding interval and swaps the ends of a reciprocal unit', () => {
    const { readings, refused } = readTyped({
      distanceM: { text: '66.8', unit: 'mi' },
      consumptionWhPerKm: { text: '2.03', unit: 'mi/kWh' },
    });
    expect(refused).toEqual([]);
    // 66.75 and 66.85 international miles (1609.344 m exactly, NIST SP 811).
    expect(readings.distanceM?.low).toBeCloseTo(107_423.712, 2);
    expect(readings.distanceM?.high).toBeCloseTo(107_584.646, 2);
    const c = readings.consumptionWhPerKm;
    expect(c !== undefined && c.low < c.value && c.value < c.high).toBe(true);
  });

  it('names an unreadable text and leaves an empty one out', () => {
    const { readings, refused } = readTyped({
      distanceM: { text: 'about 66', unit: 'mi' },
      energyWh: { text: ' ', unit: 'kWh' },
    });
    expect(readings).toEqual({});
    expect(refused.map(({ name }) => name)).toEqual(['distanceM']);
  });
});

describe('findMisreads in general', () => {
  it('finds the true text again whenever a single wrong digit breaks a check', () => {
    const step = (value: number, digits: number) => value.toFixed(digits);
    fc.assert(
      fc.property(
        fc.double({ min: 40, max: 99, noNaN: true }),
        fc.double({ min: 1.5, max: 4.5, noNaN: true }),
        fc.double({ min: 55, max: 75, noNaN: true }),
        fc.nat({ max: 2 }),
        fc.integer({ min: 1, max: 9 }),
        (distance, efficiency, speed, place, shift) => {
          const truth = step(distance, 1);
          const at = place === 2 ? 3 : place;
          const digit = (Number(truth[at]) + shift) % 10;
          const wrong = truth.slice(0, at) + digit + truth.slice(at + 1);
          fc.pre(!wrong.startsWith('0'));
          const typed: TypedReadings = {
            distanceM: { text: wrong, unit: 'mi' },
            energyWh: { text: step(distance / efficiency, 1), unit: 'kWh' },
            consumptionWhPerKm: { text: step(efficiency, 2), unit: 'mi/kWh' },
            durationS: { text: step((60 * distance) / speed, 1), unit: 'min' },
            meanSpeedMps: { text: step(speed, 1), unit: 'mph' },
          };
          const failed = inconsistentChecks(checkConsistency(readTyped(typed).readings));
          const offered = findMisreads(typed);
          if (failed.length === 0) expect(offered).toEqual([]);
          else
            expect(offered.some(({ reading, to }) => reading === 'distanceM' && to.text === truth)).toBe(
              true,
            );
          for (const { reading, to } of offered) {
            const fixed = readTyped({ ...typed, [reading]: to }).readings;
            expect(inconsistentChecks(checkConsistency(fixed))).toEqual([]);
          }
        },
      ),
    );
  });
});
