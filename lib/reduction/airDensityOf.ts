import { airDensityCipm } from '@/lib/physics/air';
import type { NormalisationCase } from '@/lib/physics/caseSchema';

/** Density of the air of a case in kg/m³: as given, or by CIPM-2007 from pressure and humidity. */
export function airDensityOf({ run }: NormalisationCase): number {
  if (run.airDensityKgM3 !== undefined) return run.airDensityKgM3;
  return airDensityCipm(
    run.airTemperatureC,
    run.pressurePa ?? Number.NaN,
    run.relativeHumidity ?? Number.NaN,
  );
}
