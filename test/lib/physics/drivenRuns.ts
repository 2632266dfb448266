import type { RandomSource } from '@/lib/numerics/seededRandom';
import { normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { type NormalisedRun, normaliseRun } from '@/lib/physics/normalise';
import { type DrivenLoop, driveLoop, type SpeedLimit, type TestAir, type TestCar } from './drivenEnergy';

export const LENGTH_M = 60_000;
const between = (random: RandomSource, low: number, high: number) =>
  low + (high - low) * random.nextUniform();

/** Ends and turnaround as the loop has them, and traffic as the day has it. */
function limitsOf(random: RandomSource, classMps: number, traffic: number): SpeedLimit[] {
  const off = between(random, 46, 58) / 3.6;
  const ramp = () => between(random, 350, 550);
  const limits: SpeedLimit[] = [
    { fromM: 0, toM: ramp(), mps: off },
    { fromM: LENGTH_M / 2 - ramp(), toM: LENGTH_M / 2 + ramp(), mps: off },
    { fromM: LENGTH_M / 2, toM: LENGTH_M / 2, mps: 0.3 },
    { fromM: LENGTH_M - ramp(), toM: LENGTH_M, mps: off },
  ];
  for (let k = 0; k < traffic; k++) {
    const at = between(random, 3000, LENGTH_M - 3000);
    if (Math.abs(at - LENGTH_M / 2) < 2500) continue;
    limits.push({
      fromM: at,
      toM: at + between(random, 50, 500),
      mps: classMps * between(random, 0.5, 0.85),
    });
  }
  return limits;
}

export interface Driven {
  car: TestCar;
  air: TestAir;
  cruiseMps: number;
  drive: DrivenLoop;
}

export function driveOne(
  random: RandomSource,
  classMps: number,
  traffic: (random: RandomSource) => number,
): Driven {
  const car: TestCar = {
    massKg: between(random, 1500, 2600),
    dragAreaM2: between(random, 0.5, 1),
    rollingCoefficient: between(random, 0.0085, 0.012),
    efficiency: 0.9,
    yawPerRad2: 3,
    recuperation: 0.6,
    auxiliaryW: between(random, 300, 1500),
  };
  const air: TestAir = {
    densityKgM3: between(random, 1.1, 1.3),
    temperatureC: between(random, 5, 30),
    windAlongMps: between(random, -3, 3),
    windAcrossMps: between(random, -2, 2),
  };
  const cruiseMps = classMps + between(random, -0.3, 0.3);
  const habit = { accelerateMps2: between(random, 0.8, 1.5), brakeMps2: between(random, 0.5, 1.6) };
  const limits = limitsOf(random, classMps, traffic(random));
  return { car, air, cruiseMps, drive: driveLoop(car, air, LENGTH_M, cruiseMps, limits, habit) };
}

export function normalised(driven: Driven, classMps: number, form: object): NormalisedRun {
  const { car, air, drive, cruiseMps } = driven;
  const result = normaliseRun(
    normalisationCaseSchema.parse({
      vehicle: {
        massKg: car.massKg,
        dragAreaM2: car.dragAreaM2,
        rollingCoefficient: car.rollingCoefficient,
        drivetrainEfficiency: car.efficiency,
      },
      run: {
        distanceM: LENGTH_M,
        energyWh: drive.energyWh,
        durationS: drive.timeS.at(-1),
        cruiseSpeedMps: cruiseMps,
        airTemperatureC: air.temperatureC,
        airDensityKgM3: air.densityKgM3,
        alongWindMps: Math.abs(air.windAlongMps),
        crossWindMps: Math.abs(air.windAcrossMps),
        netClimbM: 0,
        auxiliaryPowerW: car.auxiliaryW,
        ...form,
      },
      reference: { cruiseSpeedMps: classMps },
    }),
  );
  if (result.outcome !== 'normalised') throw new Error('outside reach');
  return result;
}

export const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
export const rms = (values: readonly number[]) => Math.sqrt(mean(values.map((v) => v * v)));
export const part = (run: NormalisedRun, names: readonly string[]) =>
  Math.hypot(
    ...run.budget.filter(({ input }) => names.includes(input)).map((entry) => entry.contributionWhPerKm),
  ) / run.normalisedWhPerKm;

/** Inputs in which the two paths of one run differ. */
export const DRIVING = ['meanSquareSpeedM2S2', 'meanSquareRatio', 'brakingOfCarShare', 'brakingOfRunShare'];
