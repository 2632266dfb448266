import { IMPORT_FIELDS, type ImportField } from '@/lib/capture/sheet/importFields';
import type { ImportCar } from '@/lib/capture/sheet/importNames';
import type { SheetReading } from '@/lib/capture/sheet/importReport';
import { columnLetters, type SheetTable } from '@/lib/capture/sheet/table';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { RUN_SECTIONS } from '@/lib/run/fields/sections';
import { CHOICE_FIELDS } from '@/lib/run/fields/table';
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

export interface ImportMapper {
  sections: { key: string; label: string; fields: MappedField[] }[];
  columns: SheetColumn[];
}

export const MOST_OFFERED = 100;

interface OfferedNames {
  cars: readonly ImportCar[];
  loops: readonly { name: string }[];
}

export function mapperOf(
  table: SheetTable,
  reading: SheetReading,
  problems: readonly { field: string; message: string }[],
  names: OfferedNames,
): ImportMapper {
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
      problem: problems.find((problem) => problem.field === field.name)?.message,
    };
  };
  return {
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

function givenOptions(field: ImportField, names: OfferedNames): Option[] | undefined {
  const byName = (things: readonly { name: string }[]) =>
    [...new Set(things.map(({ name }) => name))].map((name) => ({ value: name, label: name }));
  switch (field.holds) {
    case 'car':
      return byName(names.cars);
    case 'setup':
      return byName(names.cars.flatMap(({ setups }) => setups));
    case 'loop':
      // Of more than a list is readable with, the name is typed.
      return names.loops.length > MOST_OFFERED ? undefined : byName(names.loops);
    case 'cruiseClass':
      return CRUISE_CLASSES.map(({ key, label }) => ({ value: key, label }));
    case 'choice':
      return choiceOptions(field.name);
    default:
      return undefined;
  }
}

function choiceOptions(name: string): Option[] {
  const field = CHOICE_FIELDS.find((one) => one.name === name);
  return (field?.options ?? []).map(({ value, label }) => ({ value, label }));
}
