import type { CoastDownCoefficients } from '@/lib/physics/coastDown';

/** The coast-down coefficients of a car of which all three are known. */
export function coastDownOf(car: {
  coastDownF0N: number | null;
  coastDownF1NPerKmh: number | null;
  coastDownF2NPerKmh2: number | null;
}): CoastDownCoefficients | null {
  const { coastDownF0N: f0N, coastDownF1NPerKmh: f1NPerKmh, coastDownF2NPerKmh2: f2NPerKmh2 } = car;
  return f0N === null || f1NPerKmh === null || f2NPerKmh2 === null ? null : { f0N, f1NPerKmh, f2NPerKmh2 };
}
