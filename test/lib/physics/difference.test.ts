import { describe, expect, it } from 'vitest';
import { seededRandom } from '@/lib/numerics/seededRandom';
import type { Scope } from '@/lib/physics/budget';
import { layOutCase } from '@/lib/physics/caseInputs';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { covarianceOfDifference } from '@/lib/physics/difference';
import { indexOfInput } from '@/lib/physics/inputs';
import { type NormalisedRun, normaliseRun } from '@/lib/physics/normalise';
import { adjustmentModel, OUT, OUTPUT_COUNT } from '@/lib/physics/roadLoad';
import { exampleCase } from './exampleCase';

const normalised = (input: NormalisationCase) => normaliseRun(input) as NormalisedRun;

function pair(): [NormalisationCase, NormalisationCase] {
  const first = exampleCase();
  const second = exampleCase();
  second.run = { ...second.run, energyWh: 16_000, airTemperatureC: 13, crossWindMps: 1 };
  return [first, second];
}

describe('the difference of two runs', () => {
  it('has the plain quadrature when nothing is shared', () => {
    const [a, b] = pair().map(normalised) as [NormalisedRun, NormalisedRun];
    const difference = covarianceOfDifference(a, b, []);
    expect(difference.uWhPerKm).toBeCloseTo(Math.hypot(a.uWhPerKm, b.uWhPerKm), 10);
    expect(difference.covarianceWhPerKm2).toBe(0);
    expect(difference.correlation).toBe(0);
    expect(difference.differenceWhPerKm).toBe(a.normalisedWhPerKm - b.normalisedWhPerKm);
  });

  it('keeps only the run scope for two equal runs of one session of one car', () => {
    const a = normalised(exampleCase());
    const difference = covarianceOfDifference(a, a, ['session', 'car', 'model', 'method']);
    expect(difference.uWhPerKm).toBeCloseTo(Math.SQRT2 * a.uByScope.run, 10);
    expect(difference.covarianceWhPerKm2).toBeCloseTo(a.uWhPerKm ** 2 - a.uByScope.run ** 2, 10);
    expect(difference.interval95[0]).toBeLessThan(0);
  });

  it('shrinks with every scope that is shared', () => {
    const [a, b] = pair().map(normalised) as [NormalisedRun, NormalisedRun];
    const shares: Scope[][] = [
      [],
      ['method'],
      ['method', 'model'],
      ['method', 'model', 'car'],
      ['method', 'model', 'car', 'session'],
    ];
    const sizes = shares.map((shared) => covarianceOfDifference(a, b, shared).uWhPerKm);
    for (let i = 1; i < sizes.length; i++) expect(sizes[i]).toBeLessThan(sizes[i - 1] as number);
  });

  it('has Var(a) + Var(b) − 2·Cov(a, b)', () => {
    const [a, b] = pair().map(normalised) as [NormalisedRun, NormalisedRun];
    const { uWhPerKm, covarianceWhPerKm2 } = covarianceOfDifference(a, b, [
      'session',
      'car',
      'model',
      'method',
    ]);
    expect(uWhPerKm ** 2).toBeCloseTo(a.uWhPerKm ** 2 + b.uWhPerKm ** 2 - 2 * covarianceWhPerKm2, 9);
  });

  it('is what a simulation of both runs with common draws gives, within 4 %', () => {
    // JCGM 101 on the joint model: shared scopes draw once, run scope twice. 20 000 draws: ± 0.5 % of u
    const cases = pair();
    const laidOut = cases.map(layOutCase);
    const models = laidOut.map((one) =>
      adjustmentModel(one.profile.source, one.densitySource, one.reference, one.falls),
    );
    const random = seededRandom(9);
    const out = new Float64Array(OUTPUT_COUNT);
    const differences: number[] = [];
    for (let k = 0; k < 20_000; k++) {
      const shared = laidOut[0]?.x.map(() => random.nextNormal()) ?? [];
      const values = laidOut.map((one, which) => {
        const x = one.x.map((value, i) => {
          const deviate = one.scopes[i] === 'run' ? random.nextNormal() : (shared[i] as number);
          return value + deviate * (one.u[i] as number);
        });
        models[which]?.(x, out);
        return out[OUT.normalised] as number;
      });
      differences.push((values[0] as number) - (values[1] as number));
    }
    const mean = differences.reduce((a, b) => a + b, 0) / differences.length;
    const u = Math.sqrt(differences.reduce((a, b) => a + (b - mean) ** 2, 0) / (differences.length - 1));
    const [a, b] = cases.map(normalised) as [NormalisedRun, NormalisedRun];
    const firstOrder = covarianceOfDifference(a, b, ['session', 'car', 'model', 'method']);
    expect(Math.abs(firstOrder.uWhPerKm / u - 1)).toBeLessThan(0.04);
    expect(laidOut[0]?.scopes[indexOfInput('energyWh')]).toBe('run');
  });
});
