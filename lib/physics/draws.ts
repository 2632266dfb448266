import type { RandomSource } from '@/lib/numerics/seededRandom';
import type { Correlation, Distribution } from './budget';

/** Joint draws of a model's inputs from their distributions. */
export interface DrawnInput {
  readonly value: number;
  /** Standard uncertainty; with finite degrees of freedom the scale of the t-distribution. */
  readonly u: number;
  readonly distribution: Distribution;
  /** Infinite unless given. */
  readonly dof?: number;
}

/**
 * Compiles the inputs into a function that fills a vector with one joint draw (JCGM 101:2008, 6.4): normal, rectangular
 * and triangular as they are; a normal with finite degrees of freedom as the scaled t-distribution of 6.4.9.
 */
export function prepareDraw(
  inputs: readonly DrawnInput[],
  correlations: readonly Correlation[],
): (random: RandomSource, into: Float64Array) => void {
  const correlated = [...new Set(correlations.flatMap(({ a, b }) => [a, b]))];
  const root = correlationRoot(correlated, correlations);
  const jointly = new Set(correlated);
  const values = Float64Array.from(inputs, (input) => input.value);
  const u = Float64Array.from(inputs, (input) => input.u);
  const alone: number[] = [];
  const kinds = inputs.map((input) => input.distribution);
  inputs.forEach((input, i) => {
    if (input.u > 0 && !jointly.has(i)) alone.push(i);
  });
  const dof = inputs.map((input) => input.dof ?? Number.POSITIVE_INFINITY);
  const halfRectangle = Math.sqrt(3);
  const halfTriangle = Math.sqrt(6);
  return (random, into) => {
    into.set(values);
    for (const i of alone) {
      const kind = kinds[i];
      const deviate =
        kind === 'normal'
          ? random.nextNormal() * tScale(dof[i] as number, random)
          : kind === 'rectangular'
            ? halfRectangle * (2 * random.nextUniform() - 1)
            : halfTriangle * (random.nextUniform() + random.nextUniform() - 1);
      into[i] = (values[i] as number) + (u[i] as number) * deviate;
    }
    if (correlated.length === 0) return;
    const independent = correlated.map(() => random.nextNormal());
    correlated.forEach((index, row) => {
      let deviate = 0;
      for (let column = 0; column <= row; column++) {
        deviate += (root[row]?.[column] ?? 0) * (independent[column] as number);
      }
      into[index] = (values[index] as number) + (u[index] as number) * deviate;
    });
  };
}

/** Lower Cholesky factor of the correlation matrix of the given inputs. */
function correlationRoot(indices: readonly number[], correlations: readonly Correlation[]): number[][] {
  const coefficient = (i: number, j: number): number => {
    if (i === j) return 1;
    const found = correlations.find(({ a, b }) => (a === i && b === j) || (a === j && b === i));
    return found?.coefficient ?? 0;
  };
  const root: number[][] = [];
  indices.forEach((input, i) => {
    const row: number[] = [];
    for (let j = 0; j <= i; j++) {
      const other = i === j ? row : (root[j] as number[]);
      let sum = coefficient(input, indices[j] as number);
      for (let k = 0; k < j; k++) sum -= (row[k] as number) * (other[k] as number);
      if (i === j) {
        if (sum < -1e-12) throw new RangeError('the stated correlations cannot hold together');
        row.push(Math.sqrt(Math.max(0, sum)));
      } else {
        const pivot = other[j] as number;
        row.push(pivot === 0 ? 0 : sum / pivot);
      }
    }
    root.push(row);
  });
  return root;
}

/** What turns a standard normal into a t-distributed deviate: 1/√(χ²_ν/ν). */
function tScale(dof: number, random: RandomSource): number {
  return dof === Number.POSITIVE_INFINITY ? 1 : 1 / Math.sqrt((2 * drawGamma(dof / 2, random)) / dof);
}

/** A draw from the gamma distribution of unit scale (G. Marsaglia, W. W. Tsang, ACM TOMS 26 (2000) 363). */
function drawGamma(shape: number, random: RandomSource): number {
  if (shape < 1) return drawGamma(shape + 1, random) * (1 - random.nextUniform()) ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = random.nextNormal();
    const v = (1 + c * x) ** 3;
    if (v <= 0) continue;
    if (Math.log(1 - random.nextUniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}
