import type { FieldLists } from '@/lib/registry/runs/fieldCard';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { CHOICE_FIELDS, type ChoiceFieldDefinition, QUANTITY_FIELDS, unitFieldName } from '@/lib/run/fields';
import { isUnitCode, UNITS } from '@/lib/units/unit';

const EMPTY_WORDS = 'empty';

const NAMES: Readonly<Record<string, string>> = {
  carId: 'Car',
  setupId: 'Setup',
  loopId: 'Loop',
  cruiseClassKey: 'True speed to hold',
  startedAtLocal: 'Start',
  utcOffsetMin: 'Offset from UTC, min',
  isRetrospective: 'Entered later',
  stationReport: 'Station report',
  notes: 'Notes',
};

const choiceOf = (name: string): ChoiceFieldDefinition | undefined =>
  (CHOICE_FIELDS as readonly ChoiceFieldDefinition[]).find((field) => field.name === name);

/** What a field is called to its tester. */
export function fieldName(name: string): string {
  const ofUnit = QUANTITY_FIELDS.find(({ quantity }) => unitFieldName(quantity) === name);
  if (ofUnit !== undefined) return `${ofUnit.label}, unit`;
  const quantity = QUANTITY_FIELDS.find((field) => field.quantity === name);
  return NAMES[name] ?? quantity?.label ?? choiceOf(name)?.label ?? name;
}

/** A value as it was chosen or typed: ids by their names, choices by their labels. */
export function fieldValue(name: string, value: string | undefined, lists: FieldLists | undefined): string {
  if (value === undefined || value === '') return EMPTY_WORDS;
  const things = {
    carId: lists?.cars,
    setupId: lists?.cars.flatMap(({ setups }) => setups.map(({ id, title }) => ({ id, name: title }))),
    loopId: lists?.loops,
  }[name];
  const thing = things?.find(({ id }) => id === value);
  if (thing !== undefined) return thing.name;
  if (name === 'cruiseClassKey') return cruiseClassByKey(value)?.label ?? value;
  if (isUnitCode(value)) return UNITS[value].symbol;
  return choiceOf(name)?.options.find((option) => option.value === value)?.label ?? value;
}
