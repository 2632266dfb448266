/** Words of a sheet that name nothing by themselves: what each means is said once, for all its rows. */
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { CHOICE_FIELDS } from '@/lib/run/fields/table';
import { closestFirst } from './closest';
import type { ColumnChoice } from './columns';
import type { ImportField } from './importFields';
import { choiceValueOf, cruiseClassKeyOf, type ImportNames, plainName } from './importNames';
import type { SheetTable } from './table';

/** What a word of a column means: the value, key or name that stands for it. */
export interface CellWord {
  readonly field: string;
  readonly text: string;
  readonly value: string;
}

export interface WordOption {
  readonly value: string;
  readonly label: string;
}

export interface SheetWord {
  readonly field: string;
  readonly label: string;
  /** As the sheet has it first. */
  readonly text: string;
  readonly rows: number;
  /** The likeliest first, where names are compared by their letters. */
  readonly options: readonly WordOption[];
  /** Chosen by the tester, else proposed; '' where neither. */
  readonly value: string;
  /** "Did you mean": a name that differs from the word by a letter or two. */
  readonly nearest: string | undefined;
}

/** More words than this in one column are no choice among a few. */
const MOST_WORDS = 40;

/** Words are told apart without regard to capitals and spaces. */
export class WordMeanings {
  readonly #values: ReadonlyMap<string, string>;

  constructor(words: readonly CellWord[]) {
    this.#values = new Map(words.map(({ field, text, value }) => [keyOf(field, text), value]));
  }

  of(field: string, text: string): string | undefined {
    return this.#values.get(keyOf(field, text));
  }
}

const keyOf = (field: string, text: string): string => `${field}\n${plainName(text)}`;

/** Each word of the mapped columns that is no value of its field, column by column, with what it is taken to mean. */
export function sheetWords(
  table: SheetTable,
  columns: readonly ColumnChoice[],
  fields: readonly ImportField[],
  names: ImportNames,
  said: readonly CellWord[],
): SheetWord[] {
  const meanings = new WordMeanings(said);
  const isInMiles = columns.some(({ unit }) => unit === 'mi' || unit === 'mph');
  const inOrder = [...columns].sort((a, b) => a.column - b.column);
  return inOrder.flatMap(({ field: name, column }) => {
    const field = fields.find((one) => one.name === name);
    const options = field === undefined ? undefined : optionsOf(field, names);
    if (field === undefined || options === undefined) return [];
    // Compared once a cell: a sheet can name thousands of loops.
    const known = new Set(options.map(({ value }) => plainName(value)));
    const unknown = new Map<string, { text: string; rows: number }>();
    for (const { cells } of table.rows) {
      const text = cells[column] ?? '';
      if (text === '' || known.has(plainName(valueNamed(field, text)))) continue;
      const found = unknown.get(plainName(text));
      if (found !== undefined) found.rows += 1;
      else if (unknown.size < MOST_WORDS) unknown.set(plainName(text), { text: text.slice(0, 200), rows: 1 });
    }
    return [...unknown.values()].map(({ text, rows }): SheetWord => {
      const isName = field.holds === 'car' || field.holds === 'setup' || field.holds === 'loop';
      const ordered = isName ? closestFirst(text, options) : { options, nearest: undefined };
      const value = meanings.of(name, text) ?? proposedValue(field, text, isInMiles) ?? '';
      return { field: name, label: field.label, text, rows, value, ...ordered };
    });
  });
}

/** What the words mean so far, proposals among them: what a row is read by. */
export function wordsMeant(words: readonly SheetWord[]): CellWord[] {
  return words.flatMap(({ field, text, value }) => (value === '' ? [] : [{ field, text, value }]));
}

/** The values that a field can have, where it is one of a few. */
export function optionsOf(field: ImportField, names: ImportNames): WordOption[] | undefined {
  const named = (things: readonly { name: string }[]) =>
    [...new Set(things.map(({ name }) => name))].map((name) => ({ value: name, label: name }));
  switch (field.holds) {
    case 'car':
      return named(names.cars);
    case 'setup':
      return named(names.cars.flatMap(({ setups }) => setups));
    case 'loop':
      return named(names.loops);
    case 'cruiseClass':
      return CRUISE_CLASSES.map(({ key, label }) => ({ value: key, label }));
    case 'choice':
      return CHOICE_FIELDS.find((one) => one.name === field.name)?.options.map(({ value, label }) => ({
        value,
        label,
      }));
    default:
      return undefined;
  }
}

function valueNamed(field: ImportField, text: string): string {
  if (field.holds === 'choice') return choiceValueOf(field.name, text);
  return field.holds === 'cruiseClass' ? cruiseClassKeyOf(text) : text;
}

/** What the word can be taken for without asking again: it is shown to the tester before anything is made. */
function proposedValue(field: ImportField, text: string, isInMiles: boolean): string | undefined {
  const wanted = plainName(text);
  if (field.holds === 'cruiseClass') {
    const number = /^(\d{2,3})(km\/?h|kmh|kph|mph|mi\/h)?$/.exec(wanted);
    if (number === null) return undefined;
    const isMiles = number[2] === undefined ? isInMiles : /^m/.test(number[2]);
    return CRUISE_CLASSES.find(({ key }) => key === `${isMiles ? 'mph' : 'kmh'}-${number[1]}`)?.key;
  }
  if (field.holds !== 'choice') return undefined;
  return CHOICE_FIELDS.find((one) => one.name === field.name)?.options.find(({ words = [] }) =>
    words.some((word) => plainName(word) === wanted),
  )?.value;
}
