import type { StepName } from '@/lib/physics/normalise';
import type { ReferenceConditions } from '@/lib/physics/roadLoad';
import { formatNumber, formatQuantity, THIN_SPACE } from '@/lib/units/format';

/** A step by what it swaps for what. */
export function stepLabel(name: StepName, reference: ReferenceConditions, classLabel: string): string {
  switch (name) {
    case 'auxiliary':
      return `Auxiliary power to ${formatQuantity(reference.auxiliaryPowerW, 'W', { decimals: 0 })}`;
    case 'elevation':
      return 'Net climb to none';
    case 'stops':
      return 'Stops to none';
    case 'wind':
      return 'Wind to calm';
    case 'density':
      return `Air density to ${formatNumber(reference.airDensityKgM3, 3)}${THIN_SPACE}kg/m³`;
    case 'rollingTemperature':
      return `Rolling resistance to ${formatQuantity(reference.airTemperatureC, 'degC', { decimals: 0 })}`;
    case 'speed':
      return `Speed profile to a steady ${classLabel}`;
  }
}
