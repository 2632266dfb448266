import { type FieldEntry, inSectionOrder } from './fields/entry';
import { RUN_SECTIONS } from './fields/sections';
import { RUN_FIELDS } from './fields/table';
import { unitFieldName } from './numberField';

/**
 * The form as typed: field name to text. A quantity `q` has its unit under `qUnit`.
 * Kept whole in a draft, so that nothing typed is lost.
 */
export type RunForm = Record<string, string>;

/** Every name of the form and its photos in the order in which it shows them, a unit after its number. */
export function formOrder(fields: readonly FieldEntry[]): string[] {
  return RUN_SECTIONS.flatMap(({ key }) =>
    inSectionOrder(fields.filter((field) => field.section === key)).flatMap(({ kind, name }) =>
      kind === 'quantity' ? [name, unitFieldName(name)] : [name],
    ),
  );
}

/** Every name under which the form sends something that belongs to the draft: all but photos. */
export function draftNames(fields: readonly FieldEntry[]): string[] {
  return formOrder(fields.filter(({ kind }) => kind !== 'photo'));
}

export const RUN_FORM_ORDER: readonly string[] = formOrder(RUN_FIELDS);
export const RUN_FORM_NAMES: readonly string[] = draftNames(RUN_FIELDS);
