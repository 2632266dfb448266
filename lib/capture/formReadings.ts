import { QUANTITY_FIELDS, type RunQuantity } from '@/lib/run/fields/table';
import { typedUnit } from '@/lib/run/numberField';
import type { RunForm } from '@/lib/run/runForm';
import type { TypedReading, TypedReadings } from './misread';
import type { ReadingName } from './readings';

/** The form's quantities that the cross-checks know, under the names that they use. */
const READING_NAMES: Partial<Record<RunQuantity, ReadingName>> = {
  trueSpeed: 'cruiseSpeedMps',
  chargeStart: 'chargeStart',
  odometerStart: 'odometerStartM',
  outboundDistance: 'outboundDistanceM',
  outboundEnergy: 'outboundEnergyWh',
  outboundDuration: 'outboundDurationS',
  tripDistance: 'distanceM',
  tripEnergy: 'energyWh',
  tripEfficiency: 'consumptionWhPerKm',
  tripDuration: 'durationS',
  tripMeanSpeed: 'meanSpeedMps',
  chargeEnd: 'chargeEnd',
  odometerEnd: 'odometerEndM',
  chargerEnergy: 'chargerEnergyWh',
};

/** The texts of a form in hand as readings to cross-check; a unit that a field does not have leaves it out. */
export function typedReadings(form: RunForm): TypedReadings {
  const typed: { [name in ReadingName]?: TypedReading } = {};
  for (const field of QUANTITY_FIELDS) {
    const name = READING_NAMES[field.name];
    const text = (form[field.name] ?? '').trim();
    const unit = typedUnit(form, field);
    if (name === undefined || text === '' || unit === undefined) continue;
    typed[name] = { text, unit, rounding: field.rounding ?? 'nearest' };
  }
  return typed;
}

/** The form's field behind a reading; nothing for readings that do not come from the form. */
export function quantityOf(reading: ReadingName): RunQuantity | undefined {
  return QUANTITY_FIELDS.find((field) => READING_NAMES[field.name] === reading)?.name;
}
