import { headingRows } from '@/lib/capture/sheet/headings';
import { IMPORT_FIELDS, type ImportField } from '@/lib/capture/sheet/importFields';
import type { ImportNames } from '@/lib/capture/sheet/importNames';
import type { SheetReading } from '@/lib/capture/sheet/importReport';
import { columnLetters, type SheetTable } from '@/lib/capture/sheet/table';
import { optionsOf, type SheetWord, sheetWords } from '@/lib/capture/sheet/words';
import { RUN_SECTIONS } from '@/lib/run/fields/sections';
import { UNITS, type UnitCode } from '@/lib/units/unit';

export interface Option {
  value: string;
  label: string;
}

/** One field of the mapper: where it comes from now and what it could come from. */
export interface MappedField {
  name: string;
  label: string;
  isRequired: boolean;
  /** Chosen column, from 0; none when nothing feeds it. */
  column: number | undefined;
  unit: string | undefined;
  units: Option[];
  /** What holds for all rows. */
  given: string;
  /** Where one of a few values can hold for all rows. */
  givenOptions: Option[] | undefined;
  problem: string | undefined;
}

export interface SheetColumn {
  index: number;
  letters: string;
  heading: string;
  samples: string[];
}

/** What is asked once a file. */
export interface AskedHabit {
  name: 'decimalMark' | 'dateOrder' | 'blankDates';
  label: string;
  options: Option[];
  value: string;
  problem: string | undefined;
}

export interface ImportMapper {
  /** The rows that can be the headings, and the one that is. */
  headings: { chosen: number; options: Option[] };
  habits: AskedHabit[];
  words: SheetWord[];
  sections: { key: string; label: string; fields: MappedField[] }[];
  columns: SheetColumn[];
}

const HABITS = [
  {
    name: 'decimalMark',
    label: 'Mark before the decimals',
    options: [
      { value: 'point', label: 'A point: 1,013.2' },
      { value: 'comma', label: 'A comma: 1.013,2' },
    ],
  },
  {
    name: 'dateOrder',
    label: 'Dates in numbers',
    options: [
      { value: 'dmy', label: 'Day first: 31/12/2025' },
      { value: 'mdy', label: 'Month first: 12/31/2025' },
    ],
  },
  {
    name: 'blankDates',
    label: 'Rows without a date',
    options: [
      { value: 'carried', label: 'Are of the date above them' },
      { value: 'missing', label: 'Lack a date, and are refused' },
    ],
  },
] as const satisfies readonly { name: AskedHabit['name']; label: string; options: readonly Option[] }[];

export const MOST_OFFERED = 100;

export function mapperOf(
  table: SheetTable,
  reading: SheetReading,
  problems: readonly { field: string; message: string }[],
  names: ImportNames,
): ImportMapper {
  const problemOf = (field: string) => problems.find((problem) => problem.field === field)?.message;
  const fieldOf = (field: ImportField): MappedField => {
    const choice = reading.columns.find((one) => one.field === field.name);
    return {
      name: field.name,
      label: field.label,
      isRequired: field.isRequired,
      column: choice?.column,
      unit: choice?.unit,
      units: (field.units ?? []).map((unit: UnitCode) => ({ value: unit, label: UNITS[unit].symbol })),
      given: reading.given[field.name] ?? '',
      givenOptions: givenOptions(field, names),
      problem: problemOf(field.name),
    };
  };
  return {
    headings: {
      chosen: table.header.rowNumber,
      options: headingRows(table).map(({ rowNumber, cells }) => ({
        value: String(rowNumber),
        label: `Row ${rowNumber}: ${cells
          .filter((cell) => cell !== '')
          .join(', ')
          .slice(0, 60)}`,
      })),
    },
    // Once asked it stays, so that an answer can be changed.
    habits: HABITS.map((habit) => ({
      ...habit,
      options: [...habit.options],
      value: reading[habit.name] ?? '',
      problem: problemOf(habit.name),
    })).filter(({ value, problem }) => value !== '' || problem !== undefined),
    words: sheetWords(table, reading.columns, IMPORT_FIELDS, names, reading.words),
    sections: RUN_SECTIONS.map(({ key, label }) => ({
      key,
      label,
      fields: IMPORT_FIELDS.filter((field) => field.section === key).map(fieldOf),
    })).filter(({ fields }) => fields.length > 0),
    columns: table.header.cells.map((heading, index) => ({
      index,
      letters: columnLetters(index),
      heading,
      samples: table.rows.slice(0, 3).map(({ cells }) => cells[index] ?? ''),
    })),
  };
}

function givenOptions(field: ImportField, names: ImportNames): Option[] | undefined {
  // Of more than a list is readable with, the name is typed.
  if (field.holds === 'loop' && names.loops.length > MOST_OFFERED) return undefined;
  return optionsOf(field, names);
}
