import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { airDensityIdeal } from '@/lib/physics/air';
import { type NormalisationCase, normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { type NormalisedRun, normaliseRun, type StepName } from '@/lib/physics/normalise';

/** Ten cases computed independently in Python from the equations of the method; see test/reference/physics. */
interface ReferenceCase {
  name: string;
  vehicle: { m: number; CdA: number; Crr: number; eta: number; kappa: number };
  test: {
    v_kmh: number;
    T: number;
    p: number;
    rh: number;
    w: number;
    c: number;
    dh: number;
    paux: number;
    D: number;
  };
  rho: number;
  e_test: number;
  e_ref: number;
  factors: Record<string, number>;
  deltas: Record<string, number>;
  total: number;
}
const file = JSON.parse(readFileSync('test/reference/physics/cases.json', 'utf8')) as {
  ref: { v: number; rho: number; T: number; paux: number };
  cases: ReferenceCase[];
};

const STEP_OF: Record<string, StepName> = {
  aux: 'auxiliary',
  elev: 'elevation',
  wind: 'wind',
  dens: 'density',
  roll: 'rollingTemperature',
  speed: 'speed',
};

function asCase({ vehicle, test, rho, e_test }: ReferenceCase): NormalisationCase {
  return normalisationCaseSchema.parse({
    vehicle: {
      massKg: vehicle.m,
      dragAreaM2: vehicle.CdA,
      rollingCoefficient: vehicle.Crr,
      drivetrainEfficiency: vehicle.eta,
      yawDragPerRad2: vehicle.kappa,
    },
    run: {
      distanceM: test.D,
      energyWh: (e_test * test.D) / 1000,
      durationS: test.D / (test.v_kmh / 3.6),
      cruiseSpeedMps: test.v_kmh / 3.6,
      airTemperatureC: test.T,
      airDensityKgM3: rho,
      alongWindMps: test.w,
      crossWindMps: test.c,
      netClimbM: test.dh,
      auxiliaryPowerW: test.paux,
    },
    reference: {
      cruiseSpeedMps: file.ref.v,
      airDensityKgM3: file.ref.rho,
      airTemperatureC: file.ref.T,
      auxiliaryPowerW: file.ref.paux,
    },
  });
}

function relative(value: number, expected: number): number {
  return Math.abs(value - expected) / Math.abs(expected);
}

describe('ten cases computed independently in Python', () => {
  it('are all there', () => {
    expect(file.cases).toHaveLength(10);
  });

  it.each(file.cases.map((entry) => [entry.name, entry] as const))('%s', (_, entry) => {
    const result = normaliseRun(asCase(entry)) as NormalisedRun;
    expect(result.outcome).toBe('normalised');
    expect(relative(result.normalisedWhPerKm, entry.e_ref)).toBeLessThan(1e-6);
    expect(relative(result.scale, 1)).toBeLessThan(1e-6);
    expect(relative(result.normalisedWhPerKm / result.measuredWhPerKm, entry.total)).toBeLessThan(1e-6);
    let compared = 0;
    for (const [key, name] of Object.entries(STEP_OF)) {
      const step = result.steps.find((candidate) => candidate.name === name);
      expect(relative(step?.factor ?? Number.NaN, entry.factors[key] ?? Number.NaN)).toBeLessThan(1e-6);
      // a step of zero has no relative error: 1e-6 of the consumption instead
      expect(Math.abs((step?.deltaWhPerKm ?? Number.NaN) - (entry.deltas[key] ?? Number.NaN))).toBeLessThan(
        1e-6 * entry.e_ref,
      );
      compared++;
    }
    expect(compared).toBe(6);
    expect(result.steps.find((step) => step.name === 'stops')?.deltaWhPerKm).toBeCloseTo(0, 12);
  });

  it.each(file.cases.map((entry) => [entry.name, entry] as const))(
    'density of %s as ideal moist air',
    (_, entry) => {
      expect(relative(airDensityIdeal(entry.test.T, entry.test.p, entry.test.rh), entry.rho)).toBeLessThan(
        1e-6,
      );
    },
  );
});
