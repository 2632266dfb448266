import type { CardStep, FieldEntry } from './entry';
import {
  CHOICE_FIELDS,
  type ChoiceField,
  PHOTO_FIELDS,
  type PhotoField,
  QUANTITY_FIELDS,
  type QuantityField,
} from './table';

/** One state of a drive with what can be read then. */
export interface CardStepFields {
  key: CardStep;
  label: string;
  quantities: readonly QuantityField[];
  choices: readonly ChoiceField[];
  photos: readonly PhotoField[];
}

const STEPS: readonly { key: CardStep; label: string }[] = [
  { key: 'before', label: 'Before' },
  { key: 'start', label: 'Start' },
  { key: 'turnaround', label: 'Turn' },
  { key: 'finish', label: 'Finish' },
  { key: 'pluggedIn', label: 'Plugged in' },
];

/** Of fields of one kind those that the card asks for at a step, in the order of their places. */
export function cardFields<Field extends FieldEntry>(fields: readonly Field[], step: CardStep): Field[] {
  const placed = fields.flatMap((field) =>
    field.card?.step === step ? [{ field, at: field.card.place }] : [],
  );
  return placed.sort((a, b) => a.at - b.at).map(({ field }) => field);
}

/** The states of a drive, in order; each asks only for what can be read then. */
export const CARD_STEPS: readonly CardStepFields[] = STEPS.map(({ key, label }) => ({
  key,
  label,
  quantities: cardFields(QUANTITY_FIELDS, key),
  choices: cardFields(CHOICE_FIELDS, key),
  photos: cardFields(PHOTO_FIELDS, key),
}));

/** The step of a run; the first where a phone has kept one that is not known. */
export function cardStep(key: CardStep): CardStepFields {
  return CARD_STEPS[Math.max(0, stepIndex(key))] as CardStepFields;
}

export function stepIndex(step: CardStep): number {
  return STEPS.findIndex(({ key }) => key === step);
}

/** The step before (−1) or after (+1); none beyond the ends. */
export function stepBeside(step: CardStep, by: -1 | 1): CardStep | undefined {
  return STEPS[stepIndex(step) + by]?.key;
}
