import { factor, inverse } from '@/lib/numerics/cholesky';
import { COMPONENT_COUNT, COMPONENTS, type Component } from './accumulate';
import type { Derivatives } from './criterion';
import type { FreeComponents } from './reml';

/** Inverse of the information of the chosen components, embedded in 4 × 4. */
export function invertInformation(information: Float64Array, chosen: readonly Component[]): Float64Array {
  const indices = chosen.map((name) => COMPONENTS.indexOf(name));
  const n = indices.length;
  const small = new Float64Array(n * n);
  const unit = indices.map((j) => Math.sqrt(information[j * (COMPONENT_COUNT + 1)] as number));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      small[i * n + j] =
        (information[(indices[i] as number) * COMPONENT_COUNT + (indices[j] as number)] as number) /
        ((unit[i] as number) * (unit[j] as number));
    }
  }
  const inverted = inverse(factor(small, n), n);
  const full = new Float64Array(COMPONENT_COUNT * COMPONENT_COUNT);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      full[(indices[i] as number) * COMPONENT_COUNT + (indices[j] as number)] =
        (inverted[i * n + j] as number) / ((unit[i] as number) * (unit[j] as number));
    }
  }
  return full;
}

/** Information on a component, free of unit, below which the data say nothing about it. */
const UNINFORMED = 1e-9;
/** Share of a component's information that must remain after the others are fitted. */
const CONFOUNDED = 1e-7;

/**
 * Which of the wanted components the layout can tell apart, from the expected information at a point in the
 * interior. With one run a session, session and residual are one; with one session a car, car and session are;
 * with one loop a car, car and car on a loop are; with one car, the car is one with the mean. The session is given up
 * first, then the car on a loop, then the car.
 *
 * @param v the variances at which `d` was evaluated
 */
export function identify(d: Derivatives, v: readonly number[], wanted: FreeComponents): FreeComponents {
  const informed = COMPONENTS.filter(
    (name, j) =>
      wanted[name] && (d.expected[j * (COMPONENT_COUNT + 1)] as number) * (v[j] as number) ** 2 > UNINFORMED,
  );
  const tries: Component[][] = [
    informed,
    informed.filter((name) => name !== 'session'),
    informed.filter((name) => name !== 'carLoop'),
    informed.filter((name) => name !== 'car'),
    informed.filter((name) => name !== 'carLoop' && name !== 'session'),
    informed.filter((name) => name !== 'carLoop' && name !== 'car'),
    informed.filter((name) => name === 'residual'),
  ];
  for (const chosen of tries) {
    if (isSeparable(d.expected, chosen)) {
      return {
        car: chosen.includes('car'),
        carLoop: chosen.includes('carLoop'),
        session: chosen.includes('session'),
        residual: chosen.includes('residual'),
      };
    }
  }
  return { car: false, carLoop: false, session: false, residual: false };
}

/** Whether the information of the chosen components has an inverse worth using. */
export function isSeparable(information: Float64Array, chosen: readonly Component[]): boolean {
  const indices = chosen.map((name) => COMPONENTS.indexOf(name));
  const n = indices.length;
  const correlation = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const [x, y] = [indices[i] as number, indices[j] as number];
      correlation[i * n + j] =
        (information[x * COMPONENT_COUNT + y] as number) /
        Math.sqrt(
          (information[x * (COMPONENT_COUNT + 1)] as number) *
            (information[y * (COMPONENT_COUNT + 1)] as number),
        );
    }
  }
  try {
    factor(correlation, n, CONFOUNDED);
    return true;
  } catch {
    return false;
  }
}
