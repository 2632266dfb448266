import { type FieldEntry, inSectionOrder, type SubjectEntry } from '@/lib/run/fields/entry';
import { RUN_SECTIONS, type RunSection } from '@/lib/run/fields/sections';
import { RUN_FIELDS } from '@/lib/run/fields/table';
import type { FieldSpec } from './columns';

/** A column that a sheet of runs can have. */
export interface ImportField extends FieldSpec {
  readonly section: RunSection;
  /** What its cells hold, where it is neither a number with a unit nor free text. */
  readonly holds: 'quantity' | 'choice' | 'text' | SubjectEntry['of'];
}

/** The columns of fields, section by section in the order of the form. A photo stands in no cell. */
export function importFieldsOf(fields: readonly FieldEntry[]): ImportField[] {
  return RUN_SECTIONS.flatMap(({ key }) =>
    inSectionOrder(fields.filter((field) => field.section === key && field.kind !== 'photo')).flatMap(
      columnsOf,
    ),
  );
}

function columnsOf(field: FieldEntry): ImportField[] {
  const { name, label, isRequired, section, aliases = [] } = field;
  const columns = field.columns ?? [{ name, label, isRequired, aliases }];
  const units =
    field.kind === 'quantity'
      ? { units: field.units, range: field.range, isMeantByUnit: field.isMeantByUnit ?? false }
      : {};
  return columns.map((column) => ({ ...column, ...units, section, holds: holdsOf(field) }));
}

function holdsOf(field: FieldEntry): ImportField['holds'] {
  switch (field.kind) {
    case 'subject':
      return field.of;
    case 'quantity':
    case 'choice':
      return field.kind;
    default:
      return 'text';
  }
}

/** Every column of a sheet of runs, in the order of the form: the template's order too. */
export const IMPORT_FIELDS: readonly ImportField[] = importFieldsOf(RUN_FIELDS);
