import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareHeadwind, headwindFromLegs, type LegReadings } from '@/lib/physics/legAsymmetry';

/** Two legs of 50 km; readings to 0.1 kWh and exact distances. */
function energies(outWhPerKm: number, backWhPerKm: number) {
  return {
    outboundEnergyWh: { value: 50 * outWhPerKm, u: 29 },
    tripEnergyWh: { value: 50 * (outWhPerKm + backWhPerKm), u: 29 },
    outboundDistanceM: { value: 50_000, u: 0 },
    tripDistanceM: { value: 100_000, u: 0 },
  };
}

const legs: LegReadings = {
  ...energies(190, 160),
  speedMps: 30,
  airDensityKgM3: 1.2,
  legClimbM: 0,
  uLegClimbM: 3,
  loopDistanceM: 100_000,
  massKg: 2000,
  dragAreaM2: 0.6,
  uDragAreaM2: 0.06,
  drivetrainEfficiency: 0.9,
  uDrivetrainEfficiency: 0.02,
};

/** Consumption of one leg of a car of those values, by the force balance: ½ρCdA(v+h)² + roll + m·g·climb/leg. */
function legConsumption(headwind: number, climbM: number): number {
  const force =
    0.5 * 1.2 * 0.6 * (30 + headwind) ** 2 + 0.009 * 2000 * 9.80665 + (2000 * 9.80665 * climbM) / 50_000;
  return force / 0.9 / 3.6 + 500 / 108;
}

describe('mean headwind from the legs', () => {
  it('recovers the headwind and climb that the force balance of two legs was made from', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -8, max: 8, noNaN: true }),
        fc.double({ min: -200, max: 200, noNaN: true }),
        (headwind, climb) => {
          const implied = headwindFromLegs({
            ...legs,
            ...energies(legConsumption(headwind, climb), legConsumption(-headwind, -climb)),
            legClimbM: climb,
          });
          expect(implied.impliedHeadwindMps).toBeCloseTo(headwind, 6);
        },
      ),
    );
  });

  it('is uncertain by its readings and climb: checked by hand', () => {
    const { uMps } = headwindFromLegs({
      ...legs,
      ...energies(190, 190),
      uDragAreaM2: 0,
      uDrivetrainEfficiency: 0,
    });
    const perWhPerKm = (3.6 * 0.9) / (2 * 1.2 * 0.6 * 30);
    // method A4: the turnaround reading counts twice, the finish once
    const uDifference = Math.hypot(2 * 29, 29) / 50;
    const perMetre = (4 * 2000 * 9.80665) / 100_000 / (2 * 1.2 * 0.6 * 30);
    expect(uMps).toBeCloseTo(Math.hypot(perWhPerKm * uDifference, perMetre * 3), 6);
  });

  it('is a finding only beyond two standard uncertainties', () => {
    const implied = { impliedHeadwindMps: 3, uMps: 0.6 };
    const near = compareHeadwind(implied, { valueMps: 1.5, uMps: 0.8 });
    expect(near.finding).toBeNull();
    expect(near.standardUncertaintyMps).toBeCloseTo(1, 12);
    const far = compareHeadwind(implied, { valueMps: -2, uMps: 0.8 });
    expect(far.standardisedDifference).toBeCloseTo(5, 12);
    expect(far.finding).toContain('3.0 m/s of headwind');
    expect(far.finding).toContain('2.0 m/s of tailwind');
  });
});
