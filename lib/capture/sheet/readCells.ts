/** Turns the cells of a row, in whatever way they are written, into the texts that the run form takes. */
import { unitFieldName } from '@/lib/run/numberField';
import { unitsLike } from '@/lib/units/spellings';
import { dateIn, dateTimeIn, timeIn } from './cells/date';
import { durationIn } from './cells/duration';
import { quantityIn } from './cells/number';
import { compassDegrees, isCalm, isUnknownDirection, windIn } from './cells/wind';
import type { ColumnChoice, FieldSpec } from './columns';
import type { SheetHabits } from './habits';
import type { WordMeanings } from './words';

export type CellReader = (choice: ColumnChoice, text: string) => Record<string, string>;

/**
 * The reader of one sheet's cells. What it cannot read any better stays as written, so that the form's own parser
 * refuses it at its cell with what it says to everybody.
 */
export function cellReader(
  fields: readonly FieldSpec[],
  habits: SheetHabits,
  words: WordMeanings,
): CellReader {
  const specs = new Map(fields.map((field) => [field.name, field]));
  return (choice, text) => {
    const { field, unit } = choice;
    const meant = words.of(field, text);
    if (meant !== undefined) return { [field]: meant };
    if (unit !== undefined) return quantityCell(specs.get(field), choice, text, habits);
    switch (field) {
      case 'startedAtLocal':
        return { [field]: dateTimeIn(text, habits.dateOrder) ?? text };
      case 'startDate': {
        const found = dateIn(text, habits.dateOrder);
        return { [field]: found === undefined ? text : found.date };
      }
      case 'startTime':
        return { [field]: timeIn(text)?.slice(0, 5) ?? text };
      default:
        return { [field]: text };
    }
  };
}

function quantityCell(
  spec: FieldSpec | undefined,
  { field, unit }: ColumnChoice,
  text: string,
  habits: SheetHabits,
): Record<string, string> {
  const inUnit = (digits: string, own = unit): Record<string, string> =>
    own === undefined ? { [field]: digits } : { [field]: digits, [unitFieldName(field)]: own };
  const first = spec?.units?.[0];
  if (unit === undefined || first === undefined) return { [field]: text };
  if (field === 'windFrom' && isUnknownDirection(text)) return { windDirectionKnown: 'no' };
  if (field === 'windFrom') return inUnit(String(compassDegrees(text) ?? withoutUnit(text)));
  if (field === 'windSpeed' || field === 'windGust') {
    if (isCalm(text)) return inUnit('0');
    const both = windIn(text);
    if (both !== undefined) {
      const speed = quantityIn(both.speed, unitsLike(first), habits.decimalMark);
      const direction = { windFrom: String(both.degrees), windFromUnit: 'deg' };
      if (speed !== undefined) return { ...direction, ...inUnit(speed.digits, speed.unit) };
    }
  }
  if (first === 'min') {
    const duration = durationIn(text);
    if (duration !== undefined) return inUnit(duration);
  }
  const found = quantityIn(text, unitsLike(first), habits.decimalMark);
  return found === undefined ? inUnit(text) : inUnit(found.digits, found.unit);
}

/** "225°" and "225 deg". */
function withoutUnit(text: string): string {
  return text.replace(/\s*(°|deg(rees)?)\s*$/i, '');
}
