import { formatNumber } from '@/lib/units/format';
import { parseQuantity } from '@/lib/units/parse';
import { fromCanonical, UNITS, type UnitCode } from '@/lib/units/unit';
import type { InputIssue } from './errors';

/** A number that a form asks for. Its name ends in the canonical unit that it becomes. */
export interface NumberField {
  name: string;
  label: string;
  hint: string;
  /** The first is the form's default; none for a pure number. */
  units: readonly UnitCode[];
  isRequired: boolean;
  allowNegative?: boolean;
  /** In canonical units; outside it the number or its unit is wrong. */
  range: readonly [number, number];
}

export interface ParsedNumbers {
  /** Canonical values of what was filled in. */
  values: Record<string, number>;
  issues: InputIssue[];
}

/** The name under which the unit of a number is sent. */
export function unitNameOf(name: string): string {
  return `${name}Unit`;
}

/** Turns the texts of a form into canonical numbers, or into one issue a field. */
export function parseNumbers(
  form: Readonly<Record<string, string>>,
  fields: readonly NumberField[],
): ParsedNumbers {
  const values: Record<string, number> = {};
  const issues: InputIssue[] = [];
  for (const field of fields) {
    const text = (form[field.name] ?? '').trim();
    if (text === '') {
      if (field.isRequired) issues.push(missing(field));
      continue;
    }
    const unit = field.units.find((one) => one === form[unitNameOf(field.name)]) ?? field.units[0];
    const parsed = readNumber(text, unit, field.allowNegative ?? false);
    if (typeof parsed === 'string') issues.push(unreadable(field, text, parsed));
    else if (parsed < field.range[0] || parsed > field.range[1]) issues.push(outside(field, text, unit));
    else values[field.name] = parsed;
  }
  return { values, issues };
}

/** The canonical number, or why there is none. */
function readNumber(text: string, unit: UnitCode | undefined, allowNegative: boolean): number | string {
  // A pure number is read like one in any linear unit whose canonical value is the shown one.
  const parsed = parseQuantity(text, unit ?? 'm', { allowNegative });
  return parsed.ok ? parsed.value : parsed.message;
}

function missing(field: NumberField): InputIssue {
  return {
    path: field.name,
    what: `${field.label} is missing.`,
    why: 'Runs cannot be reduced without it.',
    fix: 'Enter it, with its unit.',
  };
}

function unreadable(field: NumberField, text: string, why: string): InputIssue {
  return {
    path: field.name,
    what: `“${text.slice(0, 40)}” cannot be ${field.label.toLowerCase()}.`,
    why,
    fix: 'Enter digits with one decimal mark.',
  };
}

function outside(field: NumberField, text: string, unit: UnitCode | undefined): InputIssue {
  const shown = (canonical: number) => {
    const value = unit === undefined ? canonical : fromCanonical(canonical, unit);
    return formatNumber(value, Number.isInteger(value) || Math.abs(value) >= 100 ? 0 : 3);
  };
  const symbol = unit === undefined ? '' : ` ${UNITS[unit].symbol}`;
  return {
    path: field.name,
    what: `${text.slice(0, 40)}${symbol} is not possible for ${field.label.toLowerCase()}.`,
    why: `It lies between ${shown(field.range[0])} and ${shown(field.range[1])}${symbol}.`,
    fix: 'Check the digits and the unit.',
  };
}

/** A text without which a form cannot be taken, with the reason. */
export interface RequiredText {
  name: string;
  label: string;
  why: string;
}

/** One issue for each required text that was left empty. */
export function missingTexts(
  form: Readonly<Record<string, string>>,
  texts: readonly RequiredText[],
): InputIssue[] {
  return texts
    .filter(({ name }) => (form[name] ?? '').trim() === '')
    .map(({ name, label, why }) => ({ path: name, what: `${label} is missing.`, why, fix: 'Enter it.' }));
}
