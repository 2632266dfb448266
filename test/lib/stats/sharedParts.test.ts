import { describe, expect, it } from 'vitest';
import { type SharedPart, sharedUncertainty, sharedUncertaintyOfDifference } from './sharedParts';

const part = (input: string, scope: SharedPart['scope'], key: string, contribution: number): SharedPart => ({
  input,
  scope,
  key,
  contribution,
});

// JCGM 100:2008, 5.2.2: u²(y₁ − y₂) = (c₁ − c₂)² u² for one shared input, c₁²u² + c₂²u² for separate ones.
describe('shared uncertainty of a difference', () => {
  const a = [part('drag area', 'model', 'm1', 0.03), part('odometer', 'car', 'k', 0.01)];

  it('cancels what both share equally', () => {
    expect(sharedUncertaintyOfDifference(a, a)).toBe(0);
  });

  it('keeps the unequal part of a shared input', () => {
    const b = [part('drag area', 'model', 'm1', 0.02), part('odometer', 'car', 'k', 0.01)];
    expect(sharedUncertaintyOfDifference(a, b)).toBeCloseTo(0.01, 14);
  });

  it('adds separate cars and models in quadrature', () => {
    const b = [part('drag area', 'model', 'm2', 0.04), part('odometer', 'car', 'l', 0.01)];
    expect(sharedUncertaintyOfDifference(a, b)).toBeCloseTo(
      Math.sqrt(0.03 ** 2 + 0.04 ** 2 + 2 * 0.01 ** 2),
      14,
    );
    expect(sharedUncertainty(a)).toBeCloseTo(Math.hypot(0.03, 0.01), 14);
  });
});
