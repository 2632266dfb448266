import type { InputIssue } from '@/lib/run/errors';
import { QUANTITY_FIELDS, type QuantityField } from '@/lib/run/fields/table';
import { readNumber, typedUnit } from '@/lib/run/numberField';
import { markedPhoto, type PhotoMark } from '@/lib/run/photoMarks';

/**
 * Blind double entry: a second person reads the same number off the photo without seeing what the first one typed, and
 * the two are compared (Day, Fayers and Harvey 1998, Controlled Clinical Trials 19:15-24, on double data entry; cited
 * from memory). Which photo shows which reading is what its tester marked on it, else by its instrument and moment.
 */

interface TypedReading {
  quantity: string;
  enteredText: string;
  enteredUnit: string;
  value: number;
}

/** Two texts of one display are the same number when they differ by no more than the arithmetic of units does. */
const SAME = 1e-9;

/** The kind of photo that shows a reading; undefined where none of the kinds does. */
export function photoThatShows({ instrument, moment }: Pick<QuantityField, 'instrument' | 'moment'>) {
  if (instrument === 'charger') return 'charger';
  if (instrument === 'weatherSource') return 'weather';
  if (instrument !== 'carDisplay') return undefined;
  return DISPLAYS.get(moment);
}

const DISPLAYS: ReadonlyMap<string, string> = new Map([
  ['start', 'startDisplay'],
  ['turnaround', 'turnaroundDisplay'],
  ['finish', 'finishDisplay'],
]);

/** The readings that a photo of a kind may prove, in the order of the form; one of no kind in particular any of them. */
export function fieldsOnPhoto(kind: string): readonly QuantityField[] {
  return kind === 'other'
    ? QUANTITY_FIELDS
    : QUANTITY_FIELDS.filter((field) => photoThatShows(field) === kind);
}

/** The readings that one of the run's photos shows, in the order of the form. */
export function readingsOnPhotos<Reading extends TypedReading>(
  readings: readonly Reading[],
  photos: readonly { kind: string; marks: readonly PhotoMark[] }[],
): { reading: Reading; field: QuantityField; photoKind: string }[] {
  return QUANTITY_FIELDS.flatMap((field) => {
    const reading = readings.find(({ quantity }) => quantity === field.name);
    const kind = photoThatShows(field);
    const photo = markedPhoto(photos, field.name)?.photo ?? photos.find((one) => one.kind === kind);
    return reading !== undefined && photo !== undefined ? [{ reading, field, photoKind: photo.kind }] : [];
  });
}

export type Retyped = { ok: true; agrees: boolean } | { ok: false; issue: InputIssue };

/** What was read off the photo, in the unit in which the tester typed theirs, against the tester's. */
export function compareRetyped(text: string, field: QuantityField, reading: TypedReading): Retyped {
  const form = { [field.name]: text, [`${field.name}Unit`]: reading.enteredUnit };
  if (typedUnit(form, field) === undefined) return { ok: false, issue: unreadable(field) };
  const read = readNumber(form, field);
  if (read.kind === 'refused') return { ok: false, issue: read.issue };
  if (read.kind === 'empty') return { ok: false, issue: unreadable(field) };
  const scale = Math.max(1, Math.abs(reading.value));
  return { ok: true, agrees: Math.abs(read.parsed.value - reading.value) <= SAME * scale };
}

function unreadable({ name, label }: QuantityField): InputIssue {
  return {
    path: name,
    what: `${label} was not read.`,
    why: 'It is compared digit by digit with what the tester typed.',
    fix: 'Enter the digits of the photo, or leave the field empty.',
  };
}
