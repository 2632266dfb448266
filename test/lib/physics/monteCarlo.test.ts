import { describe, expect, it } from 'vitest';
import { evaluateBudget, standardFromHalfWidth } from '@/lib/physics/budget';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import type { DrawnInput } from '@/lib/physics/draws';
import { monteCarloRun, simulate, simulateTogether } from '@/lib/physics/monteCarlo';
import { type NormalisedRun, normaliseRun } from '@/lib/physics/normalise';
import { exampleCase } from './exampleCase';

const sum = (x: Float64Array) => x.reduce((total, value) => total + value, 0);
const input = (value: number, u: number, distribution: DrawnInput['distribution']): DrawnInput => ({
  value,
  u,
  distribution,
});
const rectangle = (low: number, high: number): DrawnInput =>
  input((low + high) / 2, standardFromHalfWidth((high - low) / 2, 'rectangular'), 'rectangular');

describe('several outcomes of one model', () => {
  it('are to the digit those simulated one by one', () => {
    const inputs = [input(3, 0.2, 'normal'), { ...input(5, 1, 'normal'), dof: 4 }, rectangle(0, 2)];
    const options = { seed: 9, draws: 500 };
    const [a, b] = [sum, (x: Float64Array) => (x[0] as number) * (x[1] as number)];
    const correlations = [{ a: 0, b: 1, coefficient: 0.5 }];
    const together = simulateTogether(
      inputs,
      ['a', 'b'],
      (x) => ({ a: a(x), b: b(x) }),
      options,
      correlations,
    );
    expect(together.a).toEqual(simulate(inputs, a, options, correlations));
    expect(together.b).toEqual(simulate(inputs, b, options, correlations));
  });
});

describe('JCGM 101:2008, 9.2: additive model of four inputs (values from memory)', () => {
  const options = { seed: 1, draws: 400_000 };

  it('9.2.2: four standard normals give u = 2.0 and ± 3.92', () => {
    const result = simulate(Array(4).fill(input(0, 1, 'normal')), sum, options);
    expect(result.u).toBeCloseTo(2, 1);
    expect(result.interval95[0]).toBeCloseTo(-3.92, 1);
    expect(result.interval95[1]).toBeCloseTo(3.92, 1);
  });

  it('9.2.3: four rectangular of unit variance give u = 2.0 and ± 2√3(2 − (3/5)^¼) = ± 3.88', () => {
    const exact = 2 * Math.sqrt(3) * (2 - 0.6 ** 0.25);
    expect(exact).toBeCloseTo(3.88, 2);
    const result = simulate(Array(4).fill(input(0, 1, 'rectangular')), sum, options);
    expect(result.u).toBeCloseTo(2, 1);
    // standard error of a quantile here is about 0.008
    expect(Math.abs(result.interval95[1] - exact)).toBeLessThan(0.03);
    expect(Math.abs(result.interval95[0] + exact)).toBeLessThan(0.03);
  });

  it('9.2.4: one of them ten times wider gives u = 10.1 and ± 17.0', () => {
    const inputs = [1, 1, 1, 10].map((u) => input(0, u, 'rectangular'));
    const result = simulate(inputs, sum, options);
    expect(result.u).toBeCloseTo(10.1, 1);
    expect(result.interval95[0]).toBeCloseTo(-17, 0);
    expect(Math.abs(result.interval95[1] - 17)).toBeLessThan(0.1);
  });
});

describe('JCGM 101:2008, 9.3: mass calibration, where the first order fails (values from memory)', () => {
  // mg, mg, kg/m³ …; nominal mass 100 g, reference air 1.2 kg/m³
  const inputs = [
    input(100_000, 0.05, 'normal'),
    input(1.234, 0.02, 'normal'),
    rectangle(1.1, 1.3),
    rectangle(7000, 9000),
    rectangle(7950, 8050),
  ];
  const model = (x: Float64Array) => {
    const [reference = 0, added = 0, air = 0, weight = 1, standard = 1] = x;
    return (reference + added) * (1 + (air - 1.2) * (1 / weight - 1 / standard)) - 100_000;
  };

  it('first order: 1.2340 mg, u = 0.0539 mg', () => {
    const budget = evaluateBudget(
      inputs.map((entry, i) => ({ name: `${i}`, value: entry.value, u: entry.u })),
      model,
    );
    expect(budget.value).toBeCloseTo(1.234, 4);
    expect(budget.u).toBeCloseTo(0.0539, 4);
  });

  it('simulated: u = 0.0754 mg, 95 % interval 1.083 to 1.383 mg', () => {
    const result = simulate(inputs, model, { seed: 3, draws: 400_000 });
    expect(result.mean).toBeCloseTo(1.2341, 3);
    expect(Math.abs(result.u - 0.0754)).toBeLessThan(0.0004);
    expect(Math.abs(result.interval95[0] - 1.0834)).toBeLessThan(0.003);
    expect(Math.abs(result.interval95[1] - 1.3825)).toBeLessThan(0.003);
  });
});

describe('correlated draws', () => {
  it('give the variance of a sum and of a difference', () => {
    const inputs = [input(0, 1, 'normal'), input(0, 2, 'normal'), input(0, 1, 'normal')];
    const correlations = [{ a: 0, b: 1, coefficient: 0.6 }];
    const options = { seed: 5, draws: 200_000 };
    // var = 1 + 4 ± 2·0.6·1·2
    expect(simulate(inputs, ([a = 0, b = 0]) => a + b, options, correlations).u).toBeCloseTo(
      Math.sqrt(7.4),
      1,
    );
    expect(simulate(inputs, ([a = 0, b = 0]) => a - b, options, correlations).u).toBeCloseTo(
      Math.sqrt(2.6),
      1,
    );
  });

  it('refuse correlations that cannot hold together', () => {
    const inputs = Array(3).fill(input(0, 1, 'normal')) as DrawnInput[];
    const impossible = [
      { a: 0, b: 1, coefficient: 0.9 },
      { a: 1, b: 2, coefficient: 0.9 },
      { a: 0, b: 2, coefficient: -0.9 },
    ];
    expect(() => simulate(inputs, sum, { seed: 1, draws: 10 }, impossible)).toThrow(RangeError);
  });
});

describe('a run', () => {
  it.each([1, 2, 3])('agrees with the first-order budget within 5 % (seed %d)', (seed) => {
    const result = monteCarloRun(exampleCase(), { seed, draws: 20_000 });
    const firstOrder = normaliseRun(exampleCase()) as NormalisedRun;
    expect(result?.agrees).toBe(true);
    expect(result?.nonLinearInput).toBeNull();
    expect(result?.firstOrderUWhPerKm).toBe(firstOrder.uWhPerKm);
    expect(Math.abs((result?.meanWhPerKm ?? 0) - firstOrder.normalisedWhPerKm)).toBeLessThan(
      firstOrder.uWhPerKm,
    );
  });

  it('repeats digit for digit', () => {
    const options = { seed: 11, draws: 2000 };
    expect(monteCarloRun(exampleCase(), options)).toEqual(monteCarloRun(exampleCase(), options));
  });

  it('names crosswind when that is what bends the model', () => {
    const windy: NormalisationCase = {
      ...exampleCase(),
      uncertainty: { crossWindMps: { u: 9 }, auxiliaryPowerW: { u: 1 } },
    };
    windy.run = { ...windy.run, crossWindMps: 3 };
    const result = monteCarloRun(windy, { seed: 1, draws: 20_000 });
    expect(result?.agrees).toBe(false);
    expect(result?.nonLinearInput?.input).toBe('crossWindMps');
  });

  it('is not simulated outside the reach of the method', () => {
    const rainy = exampleCase();
    rainy.run = { ...rainy.run, conditions: { precipitation: 'rain' } };
    expect(monteCarloRun(rainy, { seed: 1, draws: 100 })).toBeNull();
  });
});
