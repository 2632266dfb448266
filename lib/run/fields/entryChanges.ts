import type { RunForm } from '../runForm';
import { type FieldEntry, inSectionOrder } from './entry';
import { typedWords, valueWords } from './fieldWords';
import { RUN_FIELDS } from './table';

/** An entry that reads otherwise than in the revision before. */
export interface EntryChange {
  key: string;
  label: string;
  before: string;
  after: string;
}

/** What differs between two forms as typed, in the order of the form. */
export function entryChanges(before: RunForm, after: RunForm): EntryChange[] {
  return inSectionOrder<FieldEntry>(RUN_FIELDS).flatMap((field) => {
    const [old, now] = [wordsOf(field, before), wordsOf(field, after)];
    if (old === now) return [];
    const entry = { key: field.name, label: field.shortLabel ?? field.label };
    // An id means nothing to a reader: which one stands in the run is among its facts.
    return isById(field)
      ? [{ ...entry, before: 'another one', after: 'as shown here' }]
      : [{ ...entry, before: old, after: now }];
  });
}

function wordsOf(field: FieldEntry, form: RunForm): string {
  return field.kind === 'quantity'
    ? typedWords(form, field)
    : valueWords(field.name, form[field.name]?.trim() ?? '');
}

function isById(field: FieldEntry): boolean {
  return field.kind === 'subject' && field.of !== 'cruiseClass';
}
