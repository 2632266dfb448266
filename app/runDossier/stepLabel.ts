import type { StepName } from '@/lib/physics/normalise';
import type { ReferenceConditions } from '@/lib/physics/roadLoad';
import type { Display } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';
import { showNumber, showQuantity } from '@/lib/units/show';

/** A step by what it swaps for what. */
export function stepLabel(
  name: StepName,
  reference: ReferenceConditions,
  classLabel: string,
  display: Display,
): string {
  switch (name) {
    case 'auxiliary':
      return `Auxiliary power to ${showQuantity(reference.auxiliaryPowerW, 'W', display, { decimals: 0 })}`;
    case 'elevation':
      return 'Net climb to none';
    case 'stops':
      return 'Stops to none';
    case 'wind':
      return 'Wind to calm';
    case 'density':
      return `Air density to ${showNumber(reference.airDensityKgM3, 3, display)}${THIN_SPACE}kg/m³`;
    case 'rollingTemperature':
      return `Rolling resistance to ${showQuantity(reference.airTemperatureC, 'temperature', display, { decimals: 0 })}`;
    case 'speed':
      return `Speed profile to a steady ${classLabel}`;
  }
}
