import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coverageFactor95, DOF_CAP } from '@/lib/numerics/studentT';
import { combinedU, evaluateBudget, standardFromHalfWidth, welchSatterthwaite } from '@/lib/physics/budget';

describe('JCGM 100:2008, H.1: end gauge', () => {
  it('from the components in nm: u_c = 32, ν_eff = 16', () => {
    const parts = [25, 5.8, 3.9, 6.7, 2.9, 16.6];
    const dof = [18, 24, 5, 8, 50, 2];
    const u = combinedU(parts);
    const nu = welchSatterthwaite(u, parts, dof);
    expect(u).toBeCloseTo(31.7, 1);
    expect(Math.round(u)).toBe(32); // published
    expect(nu).toBeCloseTo(16.8, 1);
    expect(Math.floor(nu)).toBe(16); // published, truncated (G.4.1)
  });

  it('from its model l = l_s + d − l_s·(δα·θ + α_s·δθ) by numerical derivatives', () => {
    const budget = evaluateBudget(
      [
        { name: 'standard length l_s, nm', value: 50_000_623, u: 25, dof: 18 },
        { name: 'measured difference, nm', value: 215, u: 5.8, dof: 24 },
        { name: 'comparator, random, nm', value: 0, u: 3.9, dof: 5 },
        { name: 'comparator, systematic, nm', value: 0, u: 6.7, dof: 8 },
        { name: 'expansion α_s, /°C', value: 11.5e-6, u: 1.2e-6 },
        { name: 'temperature θ mean, °C', value: -0.1, u: 0.2 },
        { name: 'temperature θ cyclic, °C', value: 0, u: 0.35 },
        { name: 'difference of expansion δα, /°C', value: 0, u: 0.58e-6, dof: 50 },
        { name: 'difference of temperature δθ, °C', value: 0, u: 0.029, dof: 2 },
      ],
      (x) => {
        const [
          ls = 0,
          d = 0,
          random = 0,
          systematic = 0,
          alpha = 0,
          mean = 0,
          cyclic = 0,
          dAlpha = 0,
          dTheta = 0,
        ] = x;
        return ls + d + random + systematic - ls * (dAlpha * (mean + cyclic) + alpha * dTheta);
      },
    );
    expect(budget.value).toBeCloseTo(50_000_838, 0); // published 50.000 838 mm
    expect(Math.round(budget.u)).toBe(32);
    expect(Math.floor(budget.effectiveDof)).toBe(16);
    // published table H.1, in nm
    const contribution = (name: string) =>
      budget.lines.find((line) => line.name.startsWith(name))?.contribution ?? 0;
    expect(contribution('difference of expansion')).toBeCloseTo(2.9, 1);
    expect(contribution('difference of temperature')).toBeCloseTo(16.6, 0);
    expect(contribution('temperature θ')).toBeCloseTo(0, 6);
    expect(contribution('expansion')).toBeCloseTo(0, 6);
  });

  it('t for 99 % at 16 is 2.92, and for 95 % 2.12 (JCGM 100:2008, table G.2)', () => {
    expect(coverageFactor95(16)).toBeCloseTo(2.12, 2);
    expect(coverageFactor95(1)).toBeCloseTo(12.71, 2);
    expect(coverageFactor95(50)).toBeCloseTo(2.01, 2);
    expect(coverageFactor95(DOF_CAP)).toBeCloseTo(1.96, 2);
  });
});

// Values of the example from memory, not from the document.
describe('JCGM 100:2008, H.2: resistance and reactance, from correlated readings', () => {
  const inputs = [
    { name: 'V, V', value: 4.999, u: 0.0032 },
    { name: 'I, A', value: 19.661e-3, u: 0.0095e-3 },
    { name: 'φ, rad', value: 1.04446, u: 0.00075 },
  ];
  const correlations = [
    { a: 0, b: 1, coefficient: -0.36 },
    { a: 0, b: 2, coefficient: 0.86 },
    { a: 1, b: 2, coefficient: -0.65 },
  ];
  const resistance = ([v = 0, i = 1, phi = 0]: Float64Array) => (v / i) * Math.cos(phi);
  const reactance = ([v = 0, i = 1, phi = 0]: Float64Array) => (v / i) * Math.sin(phi);
  const impedance = ([v = 0, i = 1]: Float64Array) => v / i;

  it.each([
    ['R = V/I·cos φ', resistance, 127.732, 0.071],
    ['X = V/I·sin φ', reactance, 219.847, 0.295],
    ['Z = V/I', impedance, 254.26, 0.236],
  ] as const)('%s', (_, model, value, u) => {
    const budget = evaluateBudget(inputs, model, correlations);
    expect(Math.abs(budget.value - value)).toBeLessThan(0.02);
    // u and r are published to two digits, which leaves the combined u to about 3 %
    expect(Math.abs(budget.u / u - 1)).toBeLessThan(0.03);
  });

  it('would be far too unsure of R, and too sure of X, without the correlations', () => {
    expect(evaluateBudget(inputs, resistance).u).toBeGreaterThan(2 * 0.071);
    expect(evaluateBudget(inputs, reactance).u).toBeLessThan(0.8 * 0.295);
  });
});

describe('EURACHEM/CITAC CG 4, A1: calibration standard', () => {
  it('1002.7 mg/L with u = 0.9 (0.86 before rounding)', () => {
    const budget = evaluateBudget(
      [
        { name: 'mass, mg', value: 100.28, u: 0.05 },
        { name: 'purity', value: 0.9999, u: 0.000058 },
        { name: 'volume, mL', value: 100, u: 0.07 },
      ],
      ([mass = 0, purity = 0, volume = 1]) => (1000 * mass * purity) / volume,
    );
    expect(budget.value).toBeCloseTo(1002.7, 1);
    expect(budget.u).toBeCloseTo(0.86, 2);
    // published relative components 0.0005, 0.000058, 0.0007
    expect(budget.lines.map((line) => line.contribution / budget.value)).toEqual([
      expect.closeTo(0.0005, 5),
      expect.closeTo(0.000058, 6),
      expect.closeTo(0.0007, 5),
    ]);
    expect(budget.effectiveDof).toBe(DOF_CAP);
  });
});

describe('the law of propagation', () => {
  it('with full correlation adds linearly: ten resistors of 1000 Ω, u = 1 Ω (JCGM 100:2008, 5.2.2 example)', () => {
    const inputs = Array.from({ length: 10 }, (_, i) => ({ name: `R${i}`, value: 1000, u: 0.1 }));
    const correlations = inputs.flatMap((_, a) =>
      inputs.slice(a + 1).map((__, k) => ({ a, b: a + 1 + k, coefficient: 1 })),
    );
    const sum = (x: Float64Array) => x.reduce((total, value) => total + value, 0);
    // published: each compared with one standard of u = 100 mΩ; correlated 1 Ω, wrongly taken independent 0.32 Ω
    // rounding of the differences, 10⁴ Ω at a step of 10⁻⁴ Ω
    expect(evaluateBudget(inputs, sum, correlations).u).toBeCloseTo(1, 7);
    expect(evaluateBudget(inputs, sum).u).toBeCloseTo(0.32, 2);
  });

  it('turns half-widths into standard uncertainties (JCGM 100:2008, 4.3.7, 4.3.9, 4.4.5)', () => {
    // GUM 4.3.7 and 4.4.5: copper expansion ±0.40e-6 gives 0.23e-6; temperature ±4 °C gives 2.3 °C
    expect(standardFromHalfWidth(0.4, 'rectangular')).toBeCloseTo(0.23, 2);
    expect(standardFromHalfWidth(4, 'rectangular')).toBeCloseTo(2.3, 1);
    // GUM 4.4.6: triangular over the same interval gives 1.6 °C
    expect(standardFromHalfWidth(4, 'triangular')).toBeCloseTo(1.6, 1);
    expect(standardFromHalfWidth(4, 'normal')).toBe(4);
  });

  it('scales with all uncertainties and never falls when one is added', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.01, max: 10, noNaN: true }), { minLength: 1, maxLength: 8 }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (parts, factor) => {
          const u = combinedU(parts);
          expect(combinedU(parts.map((part) => part * factor))).toBeCloseTo(u * factor, 8);
          expect(combinedU([...parts, 1])).toBeGreaterThan(u);
          const dof = parts.map(() => 7);
          const nu = welchSatterthwaite(u, parts, dof);
          // bounds of the formula: smallest ν_i to the sum of them (JCGM 100:2008, G.4.1)
          expect(nu).toBeGreaterThanOrEqual(7 * (1 - 1e-12));
          expect(nu).toBeLessThanOrEqual(7 * parts.length * (1 + 1e-12));
        },
      ),
    );
  });
});
