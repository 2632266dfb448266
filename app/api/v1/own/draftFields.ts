import { z } from 'zod';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import type { FieldEntry } from '@/lib/run/fields/entry';
import { fieldTitle } from '@/lib/run/fields/fieldWords';
import { RUN_FIELDS } from '@/lib/run/fields/table';
import { unitFieldName } from '@/lib/run/numberField';
import { RUN_FORM_NAMES } from '@/lib/run/runForm';

/** A field of a draft holds what was typed, as text. */
const typed = z
  .string(
    'This is not a text. | A draft keeps what was read, as it was read. | Send numbers in quotes as well.',
  )
  .max(4000, 'The text is too long. | A field holds at most 4000 characters. | Shorten it.');

const BY_NAME: ReadonlyMap<string, FieldEntry> = new Map(RUN_FIELDS.map((field) => [field.name, field]));
const UNIT_OF: ReadonlyMap<string, FieldEntry> = new Map(
  RUN_FIELDS.filter(({ kind }) => kind === 'quantity').map((field) => [unitFieldName(field.name), field]),
);

function wordsOf(name: string): string {
  const unitOf = UNIT_OF.get(name);
  if (unitOf?.kind === 'quantity') return `Unit of ${unitOf.name}: ${unitOf.units.join(', ')}`;
  const field = BY_NAME.get(name);
  return [fieldTitle(name), choicesOf(field), field?.isRequired ? 'has to be there to send it' : '']
    .filter((part) => part !== '')
    .join('; ');
}

/** How the parts of a start are written, which the form asks for by controls of its own. */
const STARTS: ReadonlyMap<string, string> = new Map([
  ['startedAtLocal', 'date and time at the loop, as 2026-05-14T09:30'],
  ['utcOffsetMin', 'minutes by which its clocks are ahead of UTC, as 60'],
  ['isRetrospective', 'yes, or left out'],
]);

function choicesOf(field: FieldEntry | undefined): string {
  if (field?.kind === 'start') return STARTS.get(field.name) ?? '';
  if (field?.kind === 'choice')
    return field.options.map(({ value, label }) => `${value} (${label})`).join(', ');
  if (field?.kind !== 'subject') return '';
  if (field.of === 'cruiseClass') return CRUISE_CLASSES.map(({ key }) => key).join(', ');
  return 'an id out of /own/choices';
}

function shapeOf<Field extends z.ZodType>(field: Field) {
  return Object.fromEntries(RUN_FORM_NAMES.map((name) => [name, field.meta({ description: wordsOf(name) })]));
}

/** All that a draft holds, out of the one table of a run's fields. */
export const draftFields = z
  .strictObject(shapeOf(typed.optional()))
  .meta({ id: 'DraftFields', description: 'What the form holds: each field as typed, as text' });

/** RFC 7396: null takes a field out. */
export const draftChanges = z
  .strictObject(shapeOf(typed.nullable().optional()))
  .meta({ id: 'DraftChanges', description: 'The fields to change; null empties one' });
