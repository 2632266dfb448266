import type { UnitCode } from '@/lib/units/unit';
import { QUANTITY_FIELDS } from './fields/table';
import { unitFieldName } from './numberField';
import type { RunForm } from './runForm';

/** Quantity to unit code, for the quantities where one is known. */
export type UnitChoice = Record<string, string>;

/** What a display set to miles shows; where a field has none of these, its first unit stands. */
const IMPERIAL: readonly UnitCode[] = ['mi', 'mph', 'mi/kWh', 'degF', 'psi', 'lb', 'inHg'];

export interface RememberedUnits {
  /** Of the last run, completed by the account's system of units. */
  last: UnitChoice;
  /** Of the last run with each car, by the car's id. */
  byCar: Record<string, UnitChoice>;
}

/**
 * The units that a tester used last, newest form first. Only a quantity that was filled in counts: an untouched
 * unit says nothing about the display.
 */
export function rememberedUnits(forms: readonly RunForm[], displaySystem: string): RememberedUnits {
  const last: UnitChoice = {};
  const byCar: Record<string, UnitChoice> = {};
  for (const form of forms) {
    const used = usedUnits(form);
    addMissing(last, used);
    if (form.carId) {
      byCar[form.carId] ??= {};
      addMissing(byCar[form.carId] ?? {}, used);
    }
  }
  for (const field of QUANTITY_FIELDS) {
    const bySystem =
      displaySystem === 'imperial' ? field.units.find((unit) => IMPERIAL.includes(unit)) : undefined;
    last[field.name] ??= bySystem ?? field.units[0];
  }
  return { last, byCar };
}

function usedUnits(form: RunForm): UnitChoice {
  const used: UnitChoice = {};
  for (const field of QUANTITY_FIELDS) {
    if ((form[field.name] ?? '').trim() === '') continue;
    const unit = field.units.find((candidate) => candidate === form[unitFieldName(field.name)]);
    if (unit !== undefined) used[field.name] = unit;
  }
  return used;
}

function addMissing(into: UnitChoice, from: UnitChoice): void {
  for (const [quantity, unit] of Object.entries(from)) into[quantity] ??= unit;
}
