import { CHARGING_FIELDS } from './chargingFields';
import { CONDITIONS_FIELDS } from './conditionsFields';
import type { ChoiceEntry, FieldEntry, PhotoEntry, QuantityEntry, TextEntry } from './entry';
import { EVIDENCE_FIELDS } from './evidenceFields';
import { FINISH_FIELDS } from './finishFields';
import { LOOP_FIELDS } from './loopFields';
import { SETUP_FIELDS } from './setupFields';
import { START_FIELDS } from './startFields';
import { TURNAROUND_FIELDS } from './turnaroundFields';

/**
 * The table of a run's fields, section by section. From it follow the types of a record, the parser, the sections of
 * the form, the steps of the field card, the columns of a sheet, the units of a display and the places of rules:
 * a field more is an entry more.
 */
export const RUN_FIELDS = [
  ...SETUP_FIELDS,
  ...LOOP_FIELDS,
  ...START_FIELDS,
  ...TURNAROUND_FIELDS,
  ...FINISH_FIELDS,
  ...CHARGING_FIELDS,
  ...CONDITIONS_FIELDS,
  ...EVIDENCE_FIELDS,
] as const;

type RunField = (typeof RUN_FIELDS)[number];
type ChoiceOfTable = Extract<RunField, { kind: 'choice' }>;

export type RunFieldName = RunField['name'];
/** Every number that a run's form asks for. The names are the form's field names too. */
export type RunQuantity = Extract<RunField, { kind: 'quantity' }>['name'];
export type ChoiceName = ChoiceOfTable['name'];
export type ChoiceValue<Name extends ChoiceName> = Extract<
  ChoiceOfTable,
  { name: Name }
>['options'][number]['value'];
export type TextName = Extract<RunField, { kind: 'text' }>['name'];
export type EvidenceKind = Extract<RunField, { kind: 'photo' }>['value'];

/** What was chosen, by the choice's name; only what is not required may be open. */
export type Choices = {
  [Choice in ChoiceOfTable as Choice['name']]:
    | Choice['options'][number]['value']
    | (Choice['isRequired'] extends true ? never : undefined);
};

export interface QuantityField extends QuantityEntry {
  readonly name: RunQuantity;
}

export interface ChoiceField extends ChoiceEntry {
  readonly name: ChoiceName;
}

export interface TextField extends TextEntry {
  readonly name: TextName;
}

export interface PhotoField extends PhotoEntry {
  readonly value: EvidenceKind;
}

export const QUANTITY_FIELDS: readonly QuantityField[] = RUN_FIELDS.filter(
  (field) => field.kind === 'quantity',
);
export const CHOICE_FIELDS: readonly ChoiceField[] = RUN_FIELDS.filter((field) => field.kind === 'choice');
export const TEXT_FIELDS: readonly TextField[] = RUN_FIELDS.filter((field) => field.kind === 'text');
/** Evidence photos that the form takes, with what each is to show. */
export const PHOTO_FIELDS: readonly PhotoField[] = RUN_FIELDS.filter((field) => field.kind === 'photo');

const BY_NAME: ReadonlyMap<string, RunField> = new Map(RUN_FIELDS.map((field) => [field.name, field]));

export function fieldNamed<Name extends RunFieldName>(name: Name): Extract<RunField, { name: Name }> {
  return BY_NAME.get(name) as Extract<RunField, { name: Name }>;
}

/** The field of a name that someone typed or an old row holds. */
export function runField(name: string): FieldEntry | undefined {
  return BY_NAME.get(name);
}

export function quantityField(quantity: RunQuantity): QuantityField {
  return fieldNamed(quantity);
}

/** The words of the form for a choice made in it; the value itself where the form does not know it. */
export function choiceLabel(name: string, value: string): string {
  const field = CHOICE_FIELDS.find((candidate) => candidate.name === name);
  return field?.options.find((option) => option.value === value)?.label ?? value;
}

/** The values of a choice, in the order of the form. */
export function choiceValues<Name extends ChoiceName>(
  name: Name,
): [ChoiceValue<Name>, ...ChoiceValue<Name>[]] {
  const options = CHOICE_FIELDS.find((field) => field.name === name)?.options ?? [];
  return options.map(({ value }) => value) as [ChoiceValue<Name>, ...ChoiceValue<Name>[]];
}

/** The words for a kind of photo; the kind itself where the form does not know it. */
export function photoLabel(kind: string): string {
  return PHOTO_FIELDS.find(({ value }) => value === kind)?.label ?? kind;
}
