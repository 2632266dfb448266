import type { InputIssue } from './errors';
import type { ChoiceEntry, QuantityEntry, TextEntry } from './fields/entry';
import { type NumberWords, readNumber } from './numberField';
import type { RunForm } from './runForm';
import type { QuantityReading } from './runRecord';

/** A number of the form is what a display, a gauge or a report showed. */
const SHOWN: NumberWords = {
  missing: { why: 'A run cannot be reduced without it.', fix: 'Enter the number as it was shown.' },
  unreadable: 'Enter the number as the display showed it, digits and one decimal mark.',
  bounded: 'Anything a road car can do',
  otherUnit: (symbol) => `Did the display say ${symbol}? Choose that unit.`,
};

/** The readings of a form by the fields' names, each with its moment and instrument; faults go to the issues. */
export function parseQuantities<Field extends QuantityEntry>(
  fields: readonly Field[],
  form: RunForm,
  issues: InputIssue[],
): Partial<Record<Field['name'], QuantityReading>> {
  const readings: Partial<Record<Field['name'], QuantityReading>> = {};
  for (const field of fields) {
    const name: Field['name'] = field.name;
    const read = readNumber(form, field, SHOWN);
    if (read.kind === 'refused') issues.push(read.issue);
    if (read.kind !== 'read') continue;
    readings[name] = {
      quantity: name as QuantityReading['quantity'],
      moment: field.moment,
      instrument: field.instrument,
      enteredText: read.text,
      enteredUnit: read.unit ?? field.units[0],
      value: read.parsed.value,
      low: read.parsed.low,
      high: read.parsed.high,
    };
  }
  return readings;
}

/** The choices of a form by the fields' names; an unknown value or a missing answer goes to the issues. */
export function parseChoices<Field extends ChoiceEntry>(
  fields: readonly Field[],
  form: RunForm,
  issues: InputIssue[],
): Partial<Record<Field['name'], string>> {
  const choices: Partial<Record<Field['name'], string>> = {};
  for (const field of fields) {
    const name: Field['name'] = field.name;
    const value = (form[name] ?? '').trim();
    if (value === '') {
      if (field.isRequired) {
        issues.push({
          path: name,
          what: `${field.label}: nothing chosen.`,
          why: 'The protocol needs to know it to judge the run.',
          fix: 'Choose one.',
        });
      }
    } else if (!field.options.some((option) => option.value === value)) {
      issues.push({
        path: name,
        what: `“${value.slice(0, 40)}” is not one of the choices.`,
        why: 'Only the listed values have a meaning.',
        fix: `Choose one of: ${field.options.map((option) => option.label).join(', ')}.`,
      });
    } else {
      choices[name] = value;
    }
  }
  return choices;
}

/** The texts of a form by the fields' names, none where nothing stands. */
export function parseTexts<Field extends TextEntry>(
  fields: readonly Field[],
  form: RunForm,
): Partial<Record<Field['name'], string>> {
  const texts: Partial<Record<Field['name'], string>> = {};
  for (const field of fields) {
    const name: Field['name'] = field.name;
    const text = (form[name] ?? '').trim();
    if (text !== '') texts[name] = text;
  }
  return texts;
}
