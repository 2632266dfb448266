import { DEFAULT_PREFERENCES, type Display, type Kind, UNIT_CHOICES, unitFor } from '@/lib/units/display';
import type { UnitCode } from '@/lib/units/unit';
import { QUANTITY_FIELDS } from './fields/table';
import { unitFieldName } from './numberField';
import type { RunForm } from './runForm';

/** Quantity to unit code, for the quantities where one is known. */
export type UnitChoice = Record<string, string>;

/** The kind of quantity that a field asks for, by the unit that stands first in it. */
const KINDS: ReadonlyMap<UnitCode, Kind> = new Map(
  [...(Object.keys(UNIT_CHOICES) as (keyof typeof UNIT_CHOICES)[]), 'speed' as const].map((kind) => [
    unitFor(kind, DEFAULT_PREFERENCES),
    kind,
  ]),
);

export interface RememberedUnits {
  /** Of the last run, completed by the units that the tester chose to read in. */
  last: UnitChoice;
  /** Of the last run with each car, by the car's id. */
  byCar: ReadonlyMap<string, UnitChoice>;
}

/**
 * The units that a tester used last, newest form first. Only a quantity that was filled in counts: an untouched
 * unit says nothing about the display.
 */
export function rememberedUnits(forms: readonly RunForm[], display: Display): RememberedUnits {
  const last: UnitChoice = {};
  const byCar = new Map<string, UnitChoice>();
  for (const form of forms) {
    const used = usedUnits(form);
    addMissing(last, used);
    if (!form.carId) continue;
    const ofCar = byCar.get(form.carId) ?? {};
    addMissing(ofCar, used);
    byCar.set(form.carId, ofCar);
  }
  for (const field of QUANTITY_FIELDS) last[field.name] ??= readersUnit(field.units, display);
  return { last, byCar };
}

/** Of a field's units that in which the reader reads such a quantity, else its first. */
export function readersUnit(units: readonly [UnitCode, ...UnitCode[]], display: Display): UnitCode {
  const chosen = unitFor(KINDS.get(units[0]) ?? units[0], display);
  return units.includes(chosen) ? chosen : units[0];
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
