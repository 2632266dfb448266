import { formatDuration } from '@/lib/units/format';
import { dimensionOf, isUnitCode, toCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { cruiseClassByKey } from '../cruiseClass';
import { unitFieldName } from '../numberField';
import { offsetLabel } from '../utcOffset';
import { choiceLabel, QUANTITY_FIELDS, runField } from './table';

/** What a name of the form is called in a list or a sentence: the field, or the unit of a number. */
export function fieldTitle(name: string): string {
  const ofUnit = QUANTITY_FIELDS.find((field) => unitFieldName(field.name) === name);
  if (ofUnit !== undefined) return `${ofUnit.label}, unit`;
  const field = runField(name);
  if (field === undefined) return name;
  return field.shortLabel ?? field.label;
}

/** Several of them, one after the other in a sentence. */
export function titlesInWords(names: readonly string[]): string {
  return names
    .map(fieldTitle)
    .map((title) => title.slice(0, 1).toLowerCase() + title.slice(1))
    .join(', ');
}

/** What the field card calls it. */
export function cardTitle(name: string): string {
  return runField(name)?.cardLabel ?? fieldTitle(name);
}

/** A value as the form words it; ids and texts stand as they are. */
export function valueWords(name: string, value: string): string {
  if (name === 'cruiseClassKey') return cruiseClassByKey(value)?.label ?? value;
  if (name === 'utcOffsetMin') return /^-?\d{1,4}$/.test(value) ? offsetLabel(Number(value)) : value;
  if (name.endsWith('Unit') && isUnitCode(value)) return unitSymbol(value);
  return choiceLabel(name, value);
}

/** A number of the form with the unit it stands in, as typed; empty where nothing was typed. */
export function typedWords(
  form: Readonly<Record<string, string>>,
  { name, units }: { name: string; units: readonly string[] },
): string {
  const text = form[name]?.trim() ?? '';
  const unit = form[unitFieldName(name)] ?? units[0] ?? '';
  if (text === '') return '';
  if (!isUnitCode(unit)) return `${text} ${unit}`.trim();
  return dimensionOf(unit) === 'duration' ? timeWords(text, unit) : `${text} ${unitSymbol(unit)}`;
}

/** A time as typed, and as hours and minutes where it was typed otherwise. */
function timeWords(text: string, unit: UnitCode): string {
  // Typed with a colon it is hours and minutes, whatever unit stood beside it.
  if (text.includes(':')) return `${text} h`;
  const seconds = toCanonical(Number(text.replace(',', '.')), unit);
  const typed = `${text} ${unitSymbol(unit)}`;
  return Number.isFinite(seconds) ? `${typed} (${formatDuration(seconds)} h)` : typed;
}
