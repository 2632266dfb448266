import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '@/lib/numerics/seededRandom';
import { standardAtmosphere } from '@/lib/physics/atmosphere';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { consumptionAt } from '@/lib/physics/estimate/consumptionAt';
import { outsideEstimate } from '@/lib/physics/estimate/estimateReach';
import { type ReaderCar, type ReaderConditions, readerCase } from '@/lib/physics/estimate/readerCase';
import { normaliseRun } from '@/lib/physics/normalise';
import { exampleCase } from '../exampleCase';

const CLASS_MPS = 110 / 3.6;
const car: ReaderCar = { vehicle: exampleCase().vehicle };
const conditions: ReaderConditions = {
  distanceM: 100_000,
  cruiseSpeedMps: CLASS_MPS,
  airTemperatureC: 0,
  pressure: { kind: 'altitude', altitudeM: 200 },
  wind: { speedMps: 4, fromDeg: 0 },
  route: [{ bearingDeg: 0, lengthM: 100_000 }],
  isThereAndBack: false,
  netClimbM: 0,
  climate: 'heating',
  hasHeatPump: false,
  traffic: 'free',
};
const at = (changes: Partial<ReaderConditions> = {}, referenceWhPerKm = 160) =>
  consumptionAt(readerCase(car, { ...conditions, ...changes }, CLASS_MPS), referenceWhPerKm, 'shown');

describe('consumption under stated conditions', () => {
  it('at reference conditions is the setup’s own, and moves as it does', () => {
    const { run, ...rest } = exampleCase();
    const found = consumptionAt(
      {
        ...rest,
        run: {
          distanceM: run.distanceM,
          energyWh: 1,
          durationS: run.distanceM / CLASS_MPS,
          cruiseSpeedMps: CLASS_MPS,
          airTemperatureC: 20,
          airDensityKgM3: 1.189,
          alongWindMps: 0,
          crossWindMps: 0,
          netClimbM: 0,
          auxiliaryPowerW: 500,
        },
      },
      163.2,
      'shown',
    );
    expect(found.valueWhPerKm).toBeCloseTo(163.2, 9);
    expect(found.gain).toBeCloseTo(1, 9);
    for (const step of found.steps) expect(step.deltaWhPerKm).toBeCloseTo(0, 9);
  });

  it('is the road load written out: 2000 kg, 0.6 m², 0 °C, headwind, heating, a climb (by hand)', () => {
    const reference = 160;
    const found = at(
      { netClimbM: 150, wind: { speedMps: 0, fromDeg: null }, auxiliaryPowerW: 2000 },
      reference,
    );
    const laidOut = readerCase(
      car,
      { ...conditions, netClimbM: 150, wind: { speedMps: 0, fromDeg: null }, auxiliaryPowerW: 2000 },
      CLASS_MPS,
    );
    // independent of the engine: ideal moist air, 60 % of 611 Pa at 0 °C, and the forces of a steady drive
    const { pressurePa } = standardAtmosphere(200);
    const vapour = 0.6 * 611.2;
    const density = (pressurePa - vapour) / (287.05287 * 273.15) + vapour / (461.495 * 273.15);
    const v2 = CLASS_MPS ** 2;
    // calm air still holds what a report of calm leaves open
    const windSquare = laidOut.run.alongWindMps ** 2 + 4 * laidOut.run.crossWindMps ** 2;
    const drag = 0.5 * density * 0.6 * (v2 + windSquare);
    const rolling = 0.009 * 2000 * 9.80665;
    const referenceLoad = (0.5 * 1.189 * 0.6 * v2 + rolling) / 0.9 / 3.6;
    const scale = (reference - 500 / (3.6 * CLASS_MPS)) / referenceLoad;
    const load = (drag + rolling / (1 - 20 * 8.6e-3)) / 0.9 / 3.6;
    const grade = (2000 * 9.80665 * 150) / 100_000 / 0.9 / 3.6;
    const byHand = scale * load + grade + 2000 / (3.6 * CLASS_MPS);
    // 0.1 % between the two equations of air
    expect(Math.abs(found.valueWhPerKm / byHand - 1)).toBeLessThan(1e-3);
    expect(found.scale).toBeCloseTo(scale, 6);
  });

  it('sums its steps from reference to the conditions', () => {
    const found = at({ netClimbM: 80, cruiseSpeedMps: 117 / 3.6 });
    const sum = found.steps.reduce((total, { deltaWhPerKm }) => total + deltaWhPerKm, 0);
    expect(160 + sum).toBeCloseTo(found.valueWhPerKm, 9);
  });

  it('knows by how much it moves with the setup’s value', () => {
    const h = 1e-4;
    const [up, down] = [at({}, 160 * Math.exp(h)), at({}, 160 * Math.exp(-h))];
    expect(at().gain).toBeCloseTo(Math.log(up.valueWhPerKm / down.valueWhPerKm) / (2 * h), 7);
    // heating does not scale with the road load
    expect(at().gain).toBeLessThan(0.95);
  });
});

describe('a run turned back to its own conditions', () => {
  const anyRun = fc.record({
    energyWh: fc.double({ min: 14_000, max: 22_000, noNaN: true }),
    airTemperatureC: fc.double({ min: -10, max: 35, noNaN: true }),
    alongWindMps: fc.double({ min: 0, max: 4, noNaN: true }),
    crossWindMps: fc.double({ min: 0, max: 4, noNaN: true }),
    netClimbM: fc.double({ min: -20, max: 20, noNaN: true }),
    auxiliaryPowerW: fc.double({ min: 300, max: 2500, noNaN: true }),
    stops: fc.integer({ min: 0, max: 3 }),
  });

  it('is what it measured, and what it shares with others cancels to nothing', () => {
    fc.assert(
      fc.property(anyRun, (changes) => {
        const example = exampleCase();
        const driven: NormalisationCase = { ...example, run: { ...example.run, ...changes } };
        const result = normaliseRun(driven);
        if (result.outcome !== 'normalised') return;
        const back = consumptionAt(driven, result.normalisedWhPerKm, 'shown');
        expect(back.valueWhPerKm / result.measuredWhPerKm).toBeCloseTo(1, 9);
        const behind = new Map(result.budget.map((entry) => [entry.input, entry]));
        let shared = 0;
        for (const entry of back.budget) {
          if (entry.scope !== 'model' && entry.scope !== 'method') continue;
          const of = behind.get(entry.input);
          const lambda = ((of?.sensitivity ?? 0) * (of?.u ?? 0)) / result.normalisedWhPerKm;
          const direct = (entry.sensitivity * entry.u) / back.valueWhPerKm;
          shared += Math.abs(direct);
          expect(Math.abs(back.gain * lambda + direct)).toBeLessThan(1e-7);
        }
        expect(shared).toBeGreaterThan(0.005);
      }),
      { numRuns: 60 },
    );
  });

  it('leaves the display’s scale behind its value where the energy drawn is meant', () => {
    const inputs = (sense: 'shown' | 'drawn') =>
      consumptionAt(exampleCase(), 160, sense).budget.map(({ input }) => input);
    expect(inputs('shown')).toContain('displayScaleOfModelShare');
    expect(inputs('drawn')).not.toContain('displayScaleOfModelShare');
    expect(inputs('shown')).not.toContain('displayScaleOfCarShare');
  });
});

describe('the joint uncertainty of value and conditions', () => {
  const DRAWN = [
    ['massKg', 50],
    ['dragAreaM2', 0.06],
    ['rollingCoefficient', 0.0012],
    ['drivetrainEfficiency', 0.02],
    ['yawDragPerRad2', 1],
  ] as const;
  const uncertainty = Object.fromEntries(DRAWN.map(([name, u]) => [name, { u }]));
  const { vehicle } = exampleCase();
  const nominal: ReaderCar = { vehicle, uncertainty };
  const asked = { ...conditions, airTemperatureC: 25, netClimbM: 120, wind: { speedMps: 6, fromDeg: 50 } };
  const example = exampleCase();
  // a warm run in wind: the reader's question is about other air, wind and climb
  const run = { ...example.run, crossWindMps: 3, stops: 0 };
  const drivenBy = (driven: ReaderCar, energyWh: number): NormalisationCase => ({
    ...example,
    ...driven,
    run: { ...run, energyWh },
  });
  const ask = (driven: ReaderCar, reference: number, of = asked) =>
    consumptionAt(readerCase(driven, of, CLASS_MPS), reference, 'shown');

  it('is that of worlds whose car differs from what is assumed, in the run and in the answer alike', () => {
    const random = seededRandom(12);
    const worlds = 800;
    let squares = 0;
    for (let k = 0; k < worlds; k++) {
      const truth = Object.fromEntries(
        DRAWN.map(([name, u]) => [name, (vehicle[name] as number) + u * random.nextNormal()]),
      );
      const real: ReaderCar = { vehicle: { ...vehicle, ...truth }, uncertainty };
      const reference = 160;
      const measured = consumptionAt(drivenBy(real, 1), reference, 'shown').valueWhPerKm;
      const result = normaliseRun(drivenBy(nominal, measured * 100));
      if (result.outcome !== 'normalised') throw new Error('outside reach');
      const answer = ask(nominal, result.normalisedWhPerKm).valueWhPerKm;
      squares += Math.log(answer / ask(real, reference).valueWhPerKm) ** 2;
    }
    const middle = normaliseRun(
      drivenBy(nominal, consumptionAt(drivenBy(nominal, 1), 160, 'shown').valueWhPerKm * 100),
    );
    if (middle.outcome !== 'normalised') throw new Error('outside reach');
    const found = ask(nominal, middle.normalisedWhPerKm);
    let [joint, apart] = [0, 0];
    for (const [name] of DRAWN) {
      const behind = middle.budget.find(({ input }) => input === name);
      const own = found.budget.find(({ input }) => input === name);
      const lambda = ((behind?.sensitivity ?? 0) * (behind?.u ?? 0)) / middle.normalisedWhPerKm;
      const direct = ((own?.sensitivity ?? 0) * (own?.u ?? 0)) / found.valueWhPerKm;
      joint += (found.gain * lambda + direct) ** 2;
      apart += (found.gain * lambda) ** 2 + direct ** 2;
    }
    // 800 worlds tell a standard deviation to 2.5 %; the rest is what a first order leaves
    expect(Math.abs(Math.sqrt(squares / worlds / joint) - 1)).toBeLessThan(0.09);
    expect(joint).toBeLessThan(0.8 * apart);
  });
});

describe('a reader’s conditions', () => {
  it('there and back cost more than the mean of calm, and less than against the wind', () => {
    const calm = at({ wind: { speedMps: 0, fromDeg: null } }).valueWhPerKm;
    const against = at().valueWhPerKm;
    const both = at({ isThereAndBack: true }).valueWhPerKm;
    const behind = at({ wind: { speedMps: 4, fromDeg: 180 } }).valueWhPerKm;
    expect(both).toBeCloseTo((against + behind) / 2, 1);
    expect(both).toBeGreaterThan(calm);
    expect(against).toBeGreaterThan(both);
  });

  it('are answered within reach, and outside it named with the nearest that are', () => {
    const asked = (changes: Partial<ReaderConditions>) =>
      outsideEstimate(car, { ...conditions, ...changes }, CLASS_MPS, 160);
    expect(asked({})).toBeNull();
    expect(asked({ airTemperatureC: -27 })?.nearest).toEqual([
      { condition: 'airTemperatureC', asked: -27, nearest: -20 },
    ]);
    expect(asked({ airTemperatureC: 50 })?.nearest[0]?.nearest).toBe(45);
    expect(asked({ cruiseSpeedMps: 140 / 3.6 })?.nearest[0]?.nearest).toBeCloseTo(120 / 3.6, 9);
    expect(asked({ cruiseSpeedMps: 80 / 3.6 })?.nearest[0]?.nearest).toBeCloseTo(100 / 3.6, 9);
  });

  it('with all that is named put in its place are within reach, and just beyond it are not', () => {
    const far: ReaderConditions = {
      ...conditions,
      airTemperatureC: -31,
      cruiseSpeedMps: 150 / 3.6,
      wind: { speedMps: 19, fromDeg: 30, gustMps: 25 },
      netClimbM: -6000,
    };
    const refused = outsideEstimate(car, far, CLASS_MPS, 160);
    expect(refused?.nearest.map(({ condition }) => condition)).toEqual([
      'airTemperatureC',
      'windSpeedMps',
      'cruiseSpeedMps',
      'netClimbM',
    ]);
    const value = new Map(refused?.nearest.map(({ condition, nearest }) => [condition, nearest]));
    const windSpeedMps = value.get('windSpeedMps') as number;
    const near = (share: number): ReaderConditions => ({
      ...far,
      airTemperatureC: value.get('airTemperatureC') as number,
      cruiseSpeedMps: value.get('cruiseSpeedMps') as number,
      wind: { speedMps: share * windSpeedMps, fromDeg: 30, gustMps: (share * windSpeedMps * 25) / 19 },
      netClimbM: (value.get('netClimbM') as number) + 1,
    });
    expect(outsideEstimate(car, near(1), CLASS_MPS, 160)).toBeNull();
    expect(outsideEstimate(car, near(1.01), CLASS_MPS, 160)?.nearest[0]?.condition).toBe('windSpeedMps');
  });

  it('on the steepest descent leave half of the road load and what the car needs for itself', () => {
    const level = { ...conditions, auxiliaryPowerW: 900 };
    const refused = outsideEstimate(car, { ...level, netClimbM: -9000 }, CLASS_MPS, 160);
    const netClimbM = refused?.nearest[0]?.nearest as number;
    const ownNeedsWhPerKm = 900 / (3.6 * CLASS_MPS);
    const roadLoadWhPerKm = at({ ...level, netClimbM: 0 }).valueWhPerKm - ownNeedsWhPerKm;
    expect(at({ ...level, netClimbM }).valueWhPerKm).toBeCloseTo(ownNeedsWhPerKm + roadLoadWhPerKm / 2, 5);
  });
});
