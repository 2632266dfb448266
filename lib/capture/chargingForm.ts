import type { TaperPoint } from '@/lib/physics/estimate/taper';
import { type InputIssue, InvalidInput } from '@/lib/run/errors';
import {
  type NumberField,
  type NumberWords,
  parseNumbers,
  readNumber,
  STATED,
  typedAs,
  unitFieldName,
} from '@/lib/run/numberField';
import { missingTexts, type RequiredText } from '@/lib/run/requiredText';
import { CHARGING_POWER_W, MOST_POINTS } from './chargingBounds';
import { CAPACITY } from './vehicleFields';

type Form = Readonly<Record<string, string>>;

/** Rows of an empty form, and how many more are asked for at once. */
export const ROWS_AT_ONCE = 12;

export interface RowFields {
  readonly row: number;
  readonly charge: NumberField;
  readonly power: NumberField;
}

/** The two numbers of a row of the form, counted from 1. */
export function rowFields(row: number): RowFields {
  const one = { hint: '', isRequired: false } as const;
  return {
    row,
    charge: { ...one, name: `charge${row}`, label: `Charge in row ${row}`, units: ['%'], range: [0, 1] },
    power: {
      ...one,
      name: `power${row}`,
      label: `Power in row ${row}`,
      units: ['kW'],
      range: CHARGING_POWER_W,
    },
  };
}

export const PEAK_POWER: NumberField = {
  name: 'peakPowerW',
  label: 'Peak charging power',
  hint: 'The greatest power that enters the battery. By itself, a typical curve is assumed below it.',
  units: ['kW'],
  isRequired: false,
  range: CHARGING_POWER_W,
};

export const MODEL_CAPACITY: NumberField = {
  ...CAPACITY,
  hint: 'When new; usable, not gross. It becomes the model’s.',
};

export const CHARGING_SOURCE: RequiredText = {
  name: 'source',
  label: 'The source',
  why: 'A reader has to know where the numbers come from.',
};

const HALF_A_ROW: NumberWords = {
  ...STATED,
  missing: { why: 'A point of the curve is a charge with its power.', fix: 'Enter it, or empty the row.' },
};

const textOf = (form: Form, name: string) => (form[name] ?? '').trim();
const isFilled = (form: Form, { charge, power }: RowFields) =>
  textOf(form, charge.name) !== '' || textOf(form, power.name) !== '';

/** As many rows as the form was sent with, and never more than a curve may have points. */
export function rowsOf(form: Form): readonly RowFields[] {
  const asked = Number.parseInt(form.rows ?? '', 10);
  const count = Math.min(MOST_POINTS, Math.max(ROWS_AT_ONCE, Number.isNaN(asked) ? 0 : asked));
  return Array.from({ length: count }, (_, index) => rowFields(index + 1));
}

export interface TypedCharging {
  /** For the schema of a statement. */
  readonly input: {
    points: { charge: number; powerW: number }[];
    peakPowerW?: number;
    usableCapacityWh?: number;
    source: string | undefined;
  };
  readonly issues: readonly InputIssue[];
  /** Of the schema's names, those whose faults the rows tell themselves. */
  readonly told: readonly string[];
  /** The row of each point. */
  readonly rows: readonly number[];
}

/** Reads the rows that are filled, the peak, the capacity and the source; a fault stands at its own field. */
export function readChargingForm(form: Form): TypedCharging {
  const issues: InputIssue[] = [];
  const points: { charge: number; powerW: number }[] = [];
  const rows: number[] = [];
  for (const fields of rowsOf(form)) {
    if (!isFilled(form, fields)) continue;
    const [charge, power] = [fields.charge, fields.power].map((field) =>
      readNumber(form, { ...field, isRequired: true }, HALF_A_ROW),
    );
    for (const read of [charge, power]) if (read?.kind === 'refused') issues.push(read.issue);
    if (charge?.kind !== 'read' || power?.kind !== 'read') continue;
    points.push({ charge: charge.parsed.value, powerW: power.parsed.value });
    rows.push(fields.row);
  }
  const told = issues.length > 0 ? ['points', PEAK_POWER.name] : [];
  const numbers = parseNumbers(form, [PEAK_POWER, MODEL_CAPACITY]);
  return {
    input: { points, ...numbers.values, source: form.source },
    issues: [...issues, ...numbers.issues, ...missingTexts(form, [CHARGING_SOURCE])],
    told,
    rows,
  };
}

/** What is refused of a point, at the fields of its row. */
export function toldAtRows(error: unknown, rows: readonly number[]): unknown {
  if (!(error instanceof InvalidInput)) return error;
  return new InvalidInput(
    error.issues.map((issue) => {
      const [, index, part] = /^points\.(\d+)\.(charge|powerW)$/.exec(issue.path) ?? [];
      const row = rows[Number(index)];
      if (row === undefined) return issue;
      const { charge, power } = rowFields(row);
      return { ...issue, path: part === 'charge' ? charge.name : power.name };
    }),
  );
}

/** A row of two numbers as tables give it: apart by a tab, a semicolon or spaces, with or without their units. */
const LONGEST_ROW = 60;
const PASTED_ROW = /^\s*([\d.,]+)\s*%?[\t;, ]\s*([\d.,]+)\s*(?:kW)?\s*$/i;

/**
 * Puts pasted rows after those that are filled, as they were typed, so that they can be looked at before they are sent;
 * a line that is no row stays where it was pasted and is told.
 */
export function withPastedRows(form: Form): { values: Record<string, string>; issues: InputIssue[] } {
  const values: Record<string, string> = { ...form, pasted: '' };
  const filled = rowsOf(form).filter((fields) => isFilled(form, fields));
  let row = filled.at(-1)?.row ?? 0;
  const left: string[] = [];
  for (const line of (form.pasted ?? '').split(/\r?\n/)) {
    if (line.trim() === '') continue;
    const [, charge, power] = (line.length <= LONGEST_ROW && PASTED_ROW.exec(line)) || [];
    if (charge === undefined || power === undefined || row >= MOST_POINTS) {
      left.push(line);
      continue;
    }
    row += 1;
    const fields = rowFields(row);
    values[fields.charge.name] = charge.replace(/,$/, '');
    values[fields.power.name] = power;
  }
  values.rows = String(Math.max(rowsOf(form).length, row));
  if (left.length === 0) return { values, issues: [] };
  values.pasted = left.join('\n');
  const [first = ''] = left;
  return {
    values,
    issues: [
      {
        path: 'pasted',
        what: `“${first.trim().slice(0, 40)}” is not a row of two numbers.`,
        why: `A row is a charge in % and a power in kW, and a curve has at most ${MOST_POINTS}.`,
        fix: 'Correct the lines that are left here, or empty the field.',
      },
    ],
  };
}

/** The form with more rows than it has, as far as there may be. */
export function withMoreRows(form: Form): Record<string, string> {
  return { ...form, rows: String(Math.min(MOST_POINTS, rowsOf(form).length + ROWS_AT_ONCE)) };
}

/** What stands on file, as the form takes it; without its source, since a new statement has one of its own. */
export function chargingForm(stated: {
  points: readonly TaperPoint[];
  peakPowerW: number | null;
  usableCapacityWh: number | null;
}): Record<string, string> {
  const form: Record<string, string> = { rows: String(Math.max(ROWS_AT_ONCE, stated.points.length)) };
  const put = ({ name, units: [unit] }: NumberField, value: number | null) => {
    if (value === null || unit === undefined) return;
    form[name] = typedAs(value, unit);
    form[unitFieldName(name)] = unit;
  };
  stated.points.forEach(({ charge, powerW }, index) => {
    const fields = rowFields(index + 1);
    put(fields.charge, charge);
    put(fields.power, powerW);
  });
  put(PEAK_POWER, stated.peakPowerW);
  put(MODEL_CAPACITY, stated.usableCapacityWh);
  return form;
}
