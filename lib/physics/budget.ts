import { coverageFactor95, DOF_CAP } from '@/lib/numerics/studentT';

/**
 * Uncertainty by the law of propagation (JCGM 100:2008, clause 5), for any model of independent or correlated inputs.
 * The same two steps serve a single number and the whole of a run's adjustment: differentiate, then combine.
 */

/** Inputs of one scope are the same random variable in every run that shares it. */
export type Scope = 'run' | 'session' | 'car' | 'model' | 'method';

export type Distribution = 'normal' | 'rectangular' | 'triangular';

/** Standard uncertainty of a half-width a: a/√3 or a/√6 (JCGM 100:2008, 4.3.7 and 4.3.9); a itself when normal. */
export function standardFromHalfWidth(halfWidth: number, distribution: Distribution): number {
  if (distribution === 'rectangular') return halfWidth / Math.sqrt(3);
  if (distribution === 'triangular') return halfWidth / Math.sqrt(6);
  return halfWidth;
}

/** A model from a flat vector of inputs to a flat vector of outputs; it writes into `outputs` and allocates nothing. */
export type VectorModel = (inputs: Float64Array, outputs: Float64Array) => void;

export interface Derivatives {
  /** Outputs at the estimates. */
  readonly centre: Float64Array;
  /** ∂output/∂input at [input·outputCount + output]. */
  readonly first: Float64Array;
  /** ½·∂²f/∂x²·u² of output `curvedOutput` for each input: the shift of its mean (JCGM 100:2008, F.2.4.4, H.1.7). */
  readonly shift: Float64Array;
}

/**
 * Central differences with a step of 10⁻³ u (never below 10⁻⁸ of the value). Inputs with u = 0 are fixed and skipped.
 * `inputs` is perturbed in place and restored.
 */
export function differentiate(
  model: VectorModel,
  inputs: Float64Array,
  u: Float64Array,
  outputCount: number,
  curvedOutput = 0,
): Derivatives {
  const count = inputs.length;
  const centre = new Float64Array(outputCount);
  const above = new Float64Array(outputCount);
  const below = new Float64Array(outputCount);
  const first = new Float64Array(count * outputCount);
  const shift = new Float64Array(count);
  model(inputs, centre);
  for (let i = 0; i < count; i++) {
    const ui = u[i] as number;
    if (ui === 0) continue;
    const value = inputs[i] as number;
    const step = Math.max(1e-3 * ui, 1e-8 * Math.abs(value));
    inputs[i] = value + step;
    model(inputs, above);
    inputs[i] = value - step;
    model(inputs, below);
    inputs[i] = value;
    for (let j = 0; j < outputCount; j++) {
      first[i * outputCount + j] = ((above[j] as number) - (below[j] as number)) / (2 * step);
    }
    const bend =
      (above[curvedOutput] as number) +
      (below[curvedOutput] as number) -
      2 * (centre[curvedOutput] as number);
    shift[i] = (bend / 2) * (ui / step) ** 2;
  }
  return { centre, first, shift };
}

export interface Correlation {
  readonly a: number;
  readonly b: number;
  readonly coefficient: number;
}

/**
 * Combined standard uncertainty from signed contributions c_i·u_i: u² = Σ(c_i u_i)² + 2 Σ r_ab (c_a u_a)(c_b u_b)
 * (JCGM 100:2008, equation 16).
 */
export function combinedU(
  contributions: ArrayLike<number>,
  correlations: readonly Correlation[] = [],
): number {
  let variance = 0;
  for (let i = 0; i < contributions.length; i++) variance += (contributions[i] as number) ** 2;
  for (const { a, b, coefficient } of correlations) {
    variance += 2 * coefficient * (contributions[a] as number) * (contributions[b] as number);
  }
  return Math.sqrt(Math.max(0, variance));
}

/** Effective degrees of freedom ν = u_c⁴/Σ(u_i⁴/ν_i) (JCGM 100:2008, G.4.1), not truncated, at most {@link DOF_CAP}. */
export function welchSatterthwaite(
  u: number,
  contributions: ArrayLike<number>,
  dof: ArrayLike<number>,
): number {
  let sum = 0;
  for (let i = 0; i < contributions.length; i++) {
    const part = contributions[i] as number;
    sum += (part * part * part * part) / (dof[i] as number);
  }
  return sum === 0 ? DOF_CAP : Math.min(DOF_CAP, (u * u * u * u) / sum);
}

export function interval95(value: number, u: number, effectiveDof: number): [number, number] {
  const expanded = coverageFactor95(effectiveDof) * u;
  return [value - expanded, value + expanded];
}

export interface BudgetInput {
  readonly name: string;
  readonly value: number;
  readonly u: number;
  /** Infinite unless given. */
  readonly dof?: number;
}

export interface BudgetLine extends BudgetInput {
  readonly sensitivity: number;
  readonly contribution: number;
}

export interface Budget {
  readonly value: number;
  readonly u: number;
  readonly effectiveDof: number;
  readonly interval95: [number, number];
  readonly lines: readonly BudgetLine[];
}

/** The budget of one number from a model of a few inputs; correlations by position in `inputs`. */
export function evaluateBudget(
  inputs: readonly BudgetInput[],
  model: (values: Float64Array) => number,
  correlations: readonly Correlation[] = [],
): Budget {
  const values = Float64Array.from(inputs, (input) => input.value);
  const u = Float64Array.from(inputs, (input) => input.u);
  const dof = inputs.map((input) => input.dof ?? Number.POSITIVE_INFINITY);
  const vectorModel: VectorModel = (x, out) => {
    out[0] = model(x);
  };
  const { centre, first } = differentiate(vectorModel, values, u, 1);
  const contributions = first.map((sensitivity, i) => sensitivity * (u[i] as number));
  const value = centre[0] as number;
  const combined = combinedU(contributions, correlations);
  const effectiveDof = welchSatterthwaite(combined, contributions, dof);
  return {
    value,
    u: combined,
    effectiveDof,
    interval95: interval95(value, combined, effectiveDof),
    lines: inputs.map((input, i) => ({
      ...input,
      sensitivity: first[i] as number,
      contribution: Math.abs(contributions[i] as number),
    })),
  };
}
