import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { statedCurve } from '@/lib/physics/estimate/taper';
import { checkPlan, planTrip, type Trip, type TripPlan, type TripValues } from '@/lib/physics/estimate/trip';
import {
  bestCruiseSpeed,
  estimateTrip,
  type TripKnown,
  tripDifference,
} from '@/lib/physics/estimate/tripIntervals';
import { drivenInSteps } from './drivenInSteps';

const curve = statedCurve([
  { charge: 0, powerW: 120_000 },
  { charge: 0.4, powerW: 120_000 },
  { charge: 0.8, powerW: 60_000 },
  { charge: 1, powerW: 10_000 },
]);
const plan: TripPlan = {
  distanceM: 700_000,
  speedMps: 120 / 3.6,
  startCharge: 0.8,
  endCharge: 0.2,
  lowCharge: 0.1,
  highCharge: 0.8,
  curve,
  stopOverheadS: 300,
  price: { startPerWh: 0.0003, onTheWayPerWh: 0.0006 },
};
const values: TripValues = {
  consumptionWhPerKm: 200,
  capacityWh: 75_000,
  firstStretchShare: 0.94,
  powerShare: 0.9,
};
const planned = (changes: Partial<TripPlan> = {}, at: Partial<TripValues> = {}): Trip => {
  const trip = planTrip({ ...plan, ...changes }, { ...values, ...at });
  if (trip === null) throw new Error('too many stops');
  return trip;
};

describe('a trip with charging stops', () => {
  it('without a stop is distance over speed, and costs what brings the charge back over 0.88 (by hand: 20 kWh warm 6.82, cold 7.25)', () => {
    const trip = planned({ distanceM: 100_000 });
    expect(trip).toMatchObject({ stops: [], totalS: 3000, drawnWh: 20_000, chargedWh: 0 });
    expect(trip.cost).toBeCloseTo(((20 / 0.94) * 0.3) / 0.88, 9);
    expect(planned({ distanceM: 100_000 }, { firstStretchShare: 1 }).cost).toBeCloseTo((20 * 0.3) / 0.88, 9);
    expect(trip.arrivalCharge).toBeCloseTo(0.8 - 20 / (75 * 0.94), 12);
  });

  it('agrees with driving and charging it second by second', () => {
    const trips = [
      [{}, {}],
      [{ distanceM: 1_200_000, endCharge: 0.1 }, { consumptionWhPerKm: 260 }],
      [{ distanceM: 400_000, startCharge: 1 }, { firstStretchShare: 1 }],
      [{ distanceM: 900_000, lowCharge: 0.25, highCharge: 0.6 }, { powerShare: 1.1 }],
    ] as const;
    for (const [changes, at] of trips) {
      const trip = planned(changes, at);
      const driven = drivenInSteps({ ...plan, ...changes }, { ...values, ...at });
      expect(trip.stops).toHaveLength(driven.stops);
      // each stop and each stretch may be off by a second
      expect(Math.abs(trip.totalS - driven.totalS)).toBeLessThan(2 * driven.stops + 2);
      expect(Math.abs(trip.chargedWh / driven.chargedWh - 1)).toBeLessThan(2e-3);
      expect(Math.abs(trip.arrivalCharge - driven.arrivalCharge)).toBeLessThan(2e-3);
    }
  });

  it('keeps the energy balance, the bounds and the wanted charge at the destination', () => {
    const share = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        share(0.02, 1),
        share(0, 0.6),
        share(0, 0.4),
        share(0.6, 1),
        share(10_000, 2_000_000),
        share(0.7, 1),
        (startCharge, endCharge, lowCharge, highCharge, distanceM, firstStretchShare) => {
          const trip = planned(
            { startCharge, endCharge, lowCharge, highCharge, distanceM },
            { firstStretchShare },
          );
          expect(trip.arrivalCharge).toBeGreaterThanOrEqual(endCharge - 1e-8);
          const firstTo = trip.stops[0]?.fromCharge ?? trip.arrivalCharge;
          const ofStart = (startCharge - firstTo) * values.capacityWh * firstStretchShare;
          const later = (firstTo - trip.arrivalCharge) * values.capacityWh + trip.chargedWh;
          expect(Math.abs(ofStart + later - trip.drawnWh)).toBeLessThan(1e-3);
          // what is bought is what was driven and what the cold kept
          const boughtWh = trip.drawnWh + (1 / firstStretchShare - 1) * ofStart;
          const cost = (0.3e-3 * (boughtWh - trip.chargedWh)) / 0.88 + (0.6e-3 * trip.chargedWh) / 0.92;
          expect(Math.abs((trip.cost as number) - cost)).toBeLessThan(1e-5);
          for (const stop of trip.stops) {
            expect(stop.toCharge).toBeLessThanOrEqual(highCharge);
            expect(stop.fromCharge).toBeGreaterThanOrEqual(Math.min(lowCharge, startCharge) - 1e-9);
          }
        },
      ),
      // charge at departure and lower bound a digit apart: nothing left for the first stretch
      { examples: [[0.02666666666666667, 0, 0.02666666666666666, 0.6, 10_000, 0.7]] },
    );
  });

  it('with a destination that wants more than is left charges there too', () => {
    const trip = planned({ distanceM: 300_000, endCharge: 0.7 });
    expect(trip.arrivalCharge).toBeCloseTo(0.7, 9);
  });

  it('is none where it takes more stops than anybody would make, and refuses bounds that cross', () => {
    expect(
      planTrip({ ...plan, distanceM: 5e7, lowCharge: 0.5, highCharge: 0.51, endCharge: 0.5 }, values),
    ).toBeNull();
    expect(() => checkPlan({ ...plan, lowCharge: 0.9 })).toThrow('lower to a higher');
    expect(() => checkPlan({ ...plan, endCharge: 0.9 })).toThrow('no more than a stop');
  });
});

const options = { seed: 7, draws: 2000 };
const known: TripKnown = {
  consumption: { log: Math.log(200), u: 0.025, df: 12 },
  battery: { basis: 'new', capacityWh: 79_000 },
  batteryTemperatureC: 0,
};

describe('intervals of a trip', () => {
  it('hold the trip at the estimates, count every draw and repeat to the digit', () => {
    const found = estimateTrip(plan, known, options);
    expect(found).toEqual(estimateTrip(plan, known, options));
    if (found === null) throw new Error('no trip');
    expect(found.trip.totalS).toBeGreaterThan(found.totalS.interval95[0]);
    expect(found.trip.totalS).toBeLessThan(found.totalS.interval95[1]);
    expect(found.stops.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
  });

  it('of what one setup saves another are far below those of the trips taken apart', () => {
    const second = { ...known.consumption, log: Math.log(194) };
    const saved = tripDifference(plan, known, second, 0.006, options);
    const [a, b] = [known, { ...known, consumption: second }].map((one) => estimateTrip(plan, one, options));
    if (saved === null || a == null || b == null) throw new Error('no trip');
    expect(saved.totalS.mean).toBeGreaterThan(0);
    expect(saved.totalS.u).toBeLessThan(0.4 * Math.hypot(a.totalS.u, b.totalS.u));
    expect(saved.cost?.u).toBeLessThan(0.4 * Math.hypot(a.cost?.u as number, b.cost?.u as number));
  });
});

describe('the best cruise speed', () => {
  // e = 80 + 0.09·v² Wh/km at v in m/s; at one charging power P and no overhead, total time D/v + e·D/P is least where
  // 1/v² = 2·0.09·v/P (by calculus)
  it('is that of calculus where nothing is charged for but energy', () => {
    const powerW = 60_000;
    const flat = statedCurve([
      { charge: 0, powerW },
      { charge: 1, powerW },
    ]);
    const best = Math.cbrt((1000 * powerW) / 3600 / (2 * 0.09));
    const speeds = Array.from({ length: 61 }, (_, i) => 30 + i / 2);
    const found = bestCruiseSpeed(
      { ...plan, curve: flat, stopOverheadS: 0, startCharge: 0.1, endCharge: 0.1 },
      known,
      speeds.map((speedMps) => ({
        speedMps,
        consumption: { log: Math.log(80 + 0.09 * speedMps ** 2), u: 0.02, df: 1e6 },
      })),
      { seed: 1, draws: 600 },
    );
    if (found === null) throw new Error('no trip');
    expect(found.outcomes).toHaveLength(61);
    expect(Math.abs(found.best.speedMps - best)).toBeLessThan(0.25 + 1e-9);
    // it goes with the cube root of power over consumption, which are known to 10 and 2 %
    const relative = Math.hypot(0.1, 0.02) / 3;
    expect(Math.abs(found.simulated.u / best / relative - 1)).toBeLessThan(0.12);
    expect(found.simulated.interval95[0]).toBeLessThan(best);
    expect(found.simulated.interval95[1]).toBeGreaterThan(best);
  });
});
