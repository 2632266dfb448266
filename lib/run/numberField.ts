import { formatNumber } from '@/lib/units/format';
import { type ParsedQuantity, parseQuantity } from '@/lib/units/parse';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import type { InputIssue } from './errors';

/** A number that a form asks for, with its unit under `<name>Unit`. */
export interface NumberField {
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  /** The first is the form's default; none for a pure number. */
  readonly units: readonly UnitCode[];
  readonly isRequired: boolean;
  readonly allowNegative?: boolean;
  /** Odometers cut the last digit off instead of rounding it. */
  readonly rounding?: 'nearest' | 'down';
  /**
   * In canonical units; outside it the number or its unit is wrong. The ranges are our own wide fences against a wrong
   * unit or a slipped digit; the protocol's limits are narrower and live with its versions.
   */
  readonly range: readonly [number, number];
}

type Form = Readonly<Record<string, string>>;

/** The name under which the unit of a number is sent. */
export function unitFieldName(name: string): string {
  return `${name}Unit`;
}

/** The unit a number stands in: the field's first where none is sent, none where the field does not have it. */
export function typedUnit<Unit extends UnitCode>(
  form: Form,
  field: { readonly name: string; readonly units: readonly Unit[] },
): Unit | undefined {
  const text = form[unitFieldName(field.name)] ?? field.units[0];
  return field.units.find((unit) => unit === text);
}

/** A canonical value as a form takes it: twelve digits give back what was entered, in whichever unit it was. */
export function typedAs(canonical: number, unit: UnitCode | undefined): string {
  return String(Number((unit === undefined ? canonical : fromCanonical(canonical, unit)).toPrecision(12)));
}

/** The numbers of a row as its form takes them, each in the form's first unit; what is not known stays empty. */
export function typedNumbers(row: object, fields: readonly NumberField[]): Record<string, string> {
  const values: Readonly<Record<string, unknown>> = { ...row };
  return Object.fromEntries(
    fields.flatMap(({ name, units: [unit] }) => {
      const value = values[name];
      if (typeof value !== 'number') return [];
      return [[name, typedAs(value, unit)], ...(unit === undefined ? [] : [[unitFieldName(name), unit]])];
    }),
  );
}

/** How the faults of a number are told: one read off a display, or one that is stated. */
export interface NumberWords {
  missing: { why: string; fix: string };
  unreadable: string;
  /** What lies within the range. */
  bounded: string;
  otherUnit: (symbol: string) => string;
}

export const STATED: NumberWords = {
  missing: { why: 'Runs cannot be reduced without it.', fix: 'Enter it, with its unit.' },
  unreadable: 'Enter digits with one decimal mark.',
  bounded: 'It',
  otherUnit: (symbol) => `Check the digits; in ${symbol} it would be possible.`,
};

export type NumberRead =
  | { kind: 'empty' }
  | { kind: 'refused'; issue: InputIssue }
  | { kind: 'read'; text: string; unit: UnitCode | undefined; parsed: ParsedQuantity };

/** The one reading of a form's number with its unit: a canonical value with its rounding interval, or an issue. */
export function readNumber(form: Form, field: NumberField, words: NumberWords = STATED): NumberRead {
  const text = (form[field.name] ?? '').trim();
  if (text === '' && field.isRequired) return refused(field, `${field.label} is missing.`, words.missing);
  const unit = typedUnit(form, field);
  if (unit === undefined && field.units.length > 0) return unknownUnit(form, field);
  if (text === '') return { kind: 'empty' };
  const parsed = parseIn(text, unit, field);
  if (!parsed.ok) {
    return refused(field, `“${text.slice(0, 40)}” cannot be ${labelInText(field)}.`, {
      why: parsed.message,
      fix: words.unreadable,
    });
  }
  return isWithin(parsed.value, field)
    ? { kind: 'read', text, unit, parsed }
    : outside(text, unit, field, words);
}

export interface ParsedNumbers {
  /** Canonical values of what was filled in. */
  values: Record<string, number>;
  issues: InputIssue[];
}

/** Turns the texts of a form into canonical numbers, or into one issue a field. */
export function parseNumbers(form: Form, fields: readonly NumberField[]): ParsedNumbers {
  const values: Record<string, number> = {};
  const issues: InputIssue[] = [];
  for (const field of fields) {
    const read = readNumber(form, field);
    if (read.kind === 'refused') issues.push(read.issue);
    if (read.kind === 'read') values[field.name] = read.parsed.value;
  }
  return { values, issues };
}

function parseIn(text: string, unit: UnitCode | undefined, { allowNegative = false, rounding }: NumberField) {
  // A pure number is read like one in any linear unit whose canonical value is the shown one.
  return parseQuantity(text, unit ?? 'm', { allowNegative, rounding: rounding ?? 'nearest' });
}

function isWithin(value: number, { range: [least, most] }: NumberField): boolean {
  return value >= least && value <= most;
}

/** “Price at home, per kWh” within a sentence: names of units keep their capitals. */
function labelInText({ label }: NumberField): string {
  return /^\p{Lu}\p{Ll}/u.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label;
}

function refused(field: NumberField, what: string, rest: { why: string; fix: string }): NumberRead {
  return { kind: 'refused', issue: { path: field.name, what, ...rest } };
}

function unknownUnit(form: Form, field: NumberField): NumberRead {
  const path = unitFieldName(field.name);
  return {
    kind: 'refused',
    issue: {
      path,
      what: `“${(form[path] ?? '').slice(0, 20)}” is not a unit of ${labelInText(field)}.`,
      why: 'The unit decides what the number means.',
      fix: `Choose one of ${field.units.join(', ')}.`,
    },
  };
}

/** Out of the fence: if another unit of the same field would bring it inside, say so. */
function outside(
  text: string,
  unit: UnitCode | undefined,
  field: NumberField,
  words: NumberWords,
): NumberRead {
  const other = field.units.find((candidate) => {
    const parsed = parseIn(text, candidate, field);
    return candidate !== unit && parsed.ok && isWithin(parsed.value, field);
  });
  const symbol = unit === undefined ? '' : ` ${unitSymbol(unit)}`;
  const [from, to] = field.range
    .map((canonical) => (unit === undefined ? canonical : fromCanonical(canonical, unit)))
    .sort((a, b) => a - b)
    .map(endText);
  return refused(field, `${text.slice(0, 40)}${symbol} is not possible for ${labelInText(field)}.`, {
    why: `${words.bounded} lies between ${from} and ${to}${symbol}.`,
    fix: other === undefined ? 'Check the digits and the unit.' : words.otherUnit(unitSymbol(other)),
  });
}

/** An end of a range: whole above 100, to a tenth above 10, and never coarser than a small one needs. */
function endText(value: number): string {
  const size = Math.abs(value);
  return formatNumber(value, Number.isInteger(value) || size >= 100 ? 0 : size >= 10 ? 1 : 3);
}
