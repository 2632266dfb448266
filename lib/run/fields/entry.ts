import type { UnitCode } from '@/lib/units/unit';
import type { NumberField } from '../numberField';
import type { RunSection } from './sections';

/** When in a run a number is read. */
export type Moment = 'start' | 'cruise' | 'turnaround' | 'finish' | 'charger' | 'around';

/** What a number was read from. */
export type Instrument =
  | 'carDisplay'
  | 'charger'
  | 'positioning'
  | 'gauge'
  | 'placard'
  | 'stated'
  | 'weatherSource';

/** The states of a drive at which the field card asks. */
export type CardStep = 'before' | 'start' | 'turnaround' | 'finish' | 'pluggedIn';

/** Where the field card asks for a field: the step, and the place among that step's fields of one kind. */
export interface CardPlace {
  readonly step: CardStep;
  /** Ascending; in tens, so that a field can be put between two others. */
  readonly place: number;
}

/**
 * `whole`: said once for all runs of a day. `unlessOtherwise`: said once as well, and again only for a run in which it
 * was something else.
 */
export type DaySharing = 'whole' | 'unlessOtherwise';

/** A column of a sheet of runs that feeds a field. */
export interface ColumnEntry {
  readonly name: string;
  readonly label: string;
  readonly isRequired: boolean;
  readonly aliases: readonly string[];
}

interface Entry {
  /** The name in forms, drafts and imports. It is stored with runs, so it never changes. */
  readonly name: string;
  readonly section: RunSection;
  readonly label: string;
  /** The label where it stands in a list or a sentence and the form's own would be too long. */
  readonly shortLabel?: string;
  /** The label on the field card where it differs. */
  readonly cardLabel?: string;
  readonly hint: string;
  readonly isRequired: boolean;
  /** How the runs of one day share it; none where each run has its own. */
  readonly day?: DaySharing;
  /** The field that shows the same at the finish of the run before: an offer for the next start, never more. */
  readonly follows?: string;
  /** None where the field card leaves the field to a desk. */
  readonly card?: CardPlace;
  /** Headings of a sheet's column besides name and label. */
  readonly aliases?: readonly string[];
  /** The columns of a sheet where they are not one under the form's own label. */
  readonly columns?: readonly ColumnEntry[];
}

/** A number read from an instrument. The name is the reading's quantity; its unit is sent under `<name>Unit`. */
export interface QuantityEntry extends Entry, NumberField {
  readonly kind: 'quantity';
  readonly units: readonly [UnitCode, ...UnitCode[]];
  readonly moment: Moment;
  readonly instrument: Instrument;
  /** A column of a sheet that is headed by a unit and nothing else means this field, of all in that dimension. */
  readonly isMeantByUnit?: boolean;
}

export interface ChoiceOption {
  readonly value: string;
  readonly label: string;
  readonly hint?: string;
  /** Words of people's notes that can mean it: an import proposes it for them. */
  readonly words?: readonly string[];
}

/** One of a few listed values. */
export interface ChoiceEntry extends Entry {
  readonly kind: 'choice';
  readonly options: readonly [ChoiceOption, ...ChoiceOption[]];
}

/** One of the things on file, chosen by its id or key. */
export interface SubjectEntry extends Entry {
  readonly kind: 'subject';
  readonly of: 'car' | 'setup' | 'loop' | 'cruiseClass';
}

/** A part of when the run began, and whether it was noted then. */
export interface StartEntry extends Entry {
  readonly kind: 'start';
}

export interface TextEntry extends Entry {
  readonly kind: 'text';
  readonly rows?: number;
  /** As issued by someone else: nothing to spell-check. */
  readonly isVerbatim?: boolean;
}

/** A photo as evidence; it is stored under its value and sent under its name. */
export interface PhotoEntry extends Entry {
  readonly kind: 'photo';
  readonly value: string;
}

/** One field of a run: its words, what it takes and every place where it stands. */
export type FieldEntry = SubjectEntry | StartEntry | ChoiceEntry | QuantityEntry | TextEntry | PhotoEntry;

/** Within a section the form, its messages and a sheet's columns go by kind in this order. */
const KIND_ORDER = ['subject', 'start', 'choice', 'quantity', 'text', 'photo'] as const;

/** Fields of one table in the order in which a section shows them. */
export function inSectionOrder<Field extends FieldEntry>(fields: readonly Field[]): Field[] {
  return KIND_ORDER.flatMap((kind) => fields.filter((field) => field.kind === kind));
}
