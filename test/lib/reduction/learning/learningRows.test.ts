import { describe, expect, it } from 'vitest';
import { normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { priorBelief } from '@/lib/physics/learned';
import { learningBasis } from '@/lib/reduction/learning/learningBasis';
import { learningRow, withCommonUnknowns } from '@/lib/reduction/learning/learningRows';
import {
  CENTRAL_NATURE,
  consumptionWhPerKm,
  type Drive,
  durationS,
  steadily,
} from '@/prisma/demo/world/forwardModel';

const truth = { dragAreaM2: 0.7, rollingCoefficient: 0.0103, drivetrainEfficiency: 0.9, massKg: 2100 };
const prior = priorBelief('suv', 'road');
const DISTANCE_M = 100_000;

/** A drive by the demo world's own physics, written apart from the engine, as the engine's case. */
function driven(changes: Partial<Drive> = {}, run: object = {}, cruiseMps = 31) {
  const drive: Drive = {
    roadLoad: truth,
    nature: CENTRAL_NATURE,
    pieces: steadily(cruiseMps, DISTANCE_M),
    standingS: 0,
    airDensityKgM3: 1.24,
    airTemperatureC: 11,
    wind: { meanHeadwindMps: 0, alongSquareM2S2: 4, acrossSquareM2S2: 6 },
    netClimbM: 30,
    auxiliaryPowerW: 820,
    ...changes,
  };
  const measuredWhPerKm = consumptionWhPerKm(drive);
  const engineCase = normalisationCaseSchema.parse({
    vehicle: { massKg: truth.massKg, bodyClass: 'suv', tyreKind: 'road' },
    run: {
      distanceM: DISTANCE_M,
      energyWh: (measuredWhPerKm * DISTANCE_M) / 1000,
      durationS: durationS(drive),
      cruiseSpeedMps: cruiseMps,
      airTemperatureC: drive.airTemperatureC,
      airDensityKgM3: drive.airDensityKgM3,
      alongWindMps: Math.sqrt(drive.wind.alongSquareM2S2),
      crossWindMps: Math.sqrt(drive.wind.acrossSquareM2S2),
      netClimbM: drive.netClimbM,
      climate: 'mild',
      ...run,
    },
  });
  const ids = { runNumber: 1, carId: 'car', sessionId: 'session', uRunRelative: 0.005 };
  return learningRow({ ...ids, engineCase, measuredWhPerKm }, prior);
}

const [a, r] = [truth.dragAreaM2 / 0.9, truth.rollingCoefficient / 0.9];
const explained = ({ row }: { row: number[] }, p: number) =>
  (row[0] ?? 0) * a + (row[1] ?? 0) * r + (row[2] ?? 0) * p;

describe('a run as a row of the linear model', () => {
  it('is explained to the last digit by the road load that it was driven with', () => {
    for (const [changes, cruiseMps] of [
      [{}, 31],
      [{ airTemperatureC: 33 }, 36],
      [{ netClimbM: -80 }, 31],
    ] as const) {
      const row = driven(changes, {}, cruiseMps);
      expect(explained(row, 820)).toBeCloseTo(row.y, 9);
    }
  });

  it('takes what the brakes took as known, at the prior’s drag and rolling', () => {
    const steady = driven();
    const stopped = driven({}, { stops: [{ fromMps: 31, toMps: 0, distanceM: 400 }] });
    // ½·1.03·m·v² less the road load over 400 m, of which 1 − η·ε = 0.46 is lost, over η and the distance (method A3)
    const drag = 0.5 * 1.24 * 0.75 * (31 ** 2 / 2);
    const load = drag + (0.009 * 2100 * 9.80665) / (1 - 9 * 8.6e-3) + (2100 * 9.80665 * 30) / DISTANCE_M;
    const lost = ((0.5 * 1.03 * 2100 * 31 ** 2 - 400 * load) * 0.46) / 0.9 / DISTANCE_M / 3.6;
    expect(steady.y - stopped.y).toBeCloseTo(lost, 9);
  });

  it('takes auxiliary power that was read as known, and that of another climate as its prior', () => {
    const read = driven({}, { auxiliaryPowerW: 820 });
    expect(read.row[2]).toBe(0);
    expect(explained(read, 0)).toBeCloseTo(read.y, 9);
    const off = driven({ auxiliaryPowerW: 350 }, { climate: 'off' });
    expect(off.row[2]).toBe(0);
    expect(off.row[6]).toBeGreaterThan(0);
    expect(explained(off, 0)).toBeCloseTo(off.y, 9);
  });

  it('follows what is common to all runs to first order', () => {
    // 1 % more wind at the car than the report says: its squares rise by 2.01 %
    const more = { meanHeadwindMps: 0, alongSquareM2S2: 4 * 1.01 ** 2, acrossSquareM2S2: 6 * 1.01 ** 2 };
    const [calm, windy] = [driven(), driven({ wind: more })];
    const rise = ((windy.row[0] ?? 0) - (calm.row[0] ?? 0)) * (prior.mean[0] ?? 0);
    expect(((calm.row[5] ?? 0) * 0.01) / rise).toBeCloseTo(0.02 / 0.0201, 9);
    // κ from 3 to 3.1 adds 0.1·c² to what the drag area is multiplied with: ½·1.24·0.1·6/3.6 Wh/km per m²
    expect((calm.row[3] ?? 0) * 0.1).toBeCloseTo((0.5 * 1.24 * 0.6 * (prior.mean[0] ?? 0)) / 3.6, 9);
    // K0 about 8.6e-3 at 11 °C, by central difference: m·g·Crr/η/(1 + K0·(T − 20))/3.6, UN GTR No. 15
    const rolling = (perK: number) => ((prior.mean[1] ?? 0) * 2100 * 9.80665) / (1 - 9 * perK) / 3.6;
    expect((calm.row[4] ?? 0) * 2e-4).toBeCloseTo(rolling(8.7e-3) - rolling(8.5e-3), 6);
  });

  it('lays the common unknowns beside the road load, independent of it and with mean 0', () => {
    const all = withCommonUnknowns(prior);
    expect(all.mean.slice(0, 3)).toEqual(prior.mean);
    expect(all.mean.slice(3).every((value) => value === 0)).toBe(true);
    expect(all.mean).toHaveLength(driven().row.length);
    all.covariance.forEach((line, i) => {
      line.forEach((value, j) => {
        if (i < 3 && j < 3) expect(value).toBe(prior.covariance[i]?.[j]);
        else if (i === j) expect(value).toBeGreaterThan(0);
        else expect(value).toBe(0);
      });
    });
  });
});

describe('the runs learned from', () => {
  const level = (factor: string, isBaseline: boolean, tyreKind: string | null = null) => ({
    factor,
    isBaseline,
    tyreKind,
  });
  const run = (setupId: string, ...levels: ReturnType<typeof level>[]) => ({ setupId, levels });

  it('are those whose setup leaves drag, tyres and drive as delivered', () => {
    const kept = [
      run('plain'),
      run('named', level('rideHeight', true), level('wheelTyre', true, 'road')),
      run('loaded', level('load', false)),
      run('cold', level('cabinClimate', false)),
    ];
    const out = ['rideHeight', 'wheelTyre', 'tyrePressure', 'openingsCovers', 'roofHitch', 'driveMode'].map(
      (factor) => run(factor, level(factor, false)),
    );
    expect(learningBasis([...out, ...kept], 'road')).toEqual({
      kind: 'asDelivered',
      runs: kept,
      tyreKind: 'road',
    });
  });

  it('without any of those are the ones of the setup with most runs, on its tyres', () => {
    const tyres = run('knobbly', level('wheelTyre', false, 'allTerrain'));
    const box = run('box', level('roofHitch', false));
    expect(learningBasis([box, tyres, tyres], 'road')).toEqual({
      kind: 'mostDriven',
      runs: [tyres, tyres],
      tyreKind: 'allTerrain',
    });
    expect(learningBasis([tyres, box], 'road').runs).toEqual([box]);
    expect(learningBasis([], 'road').runs).toEqual([]);
  });
});
