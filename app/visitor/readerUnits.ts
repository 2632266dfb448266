import { type UnitCode, unitSymbol, unitsOf } from '@/lib/units/unit';

/** Consumption in the unit that the address asks for; per hundred kilometres unless told. */
export function consumptionUnit(wanted: string | undefined): UnitCode {
  return unitsOf('consumption').find((unit) => unit === wanted) ?? 'kWh/100km';
}

export const CONSUMPTION_UNITS = unitsOf('consumption').map((value) => ({ value, label: unitSymbol(value) }));
