/** Which column of a logger's CSV means what: named by the tester, remembered, or told by usual names of columns. */
import type { InputIssue } from '@/lib/run/errors';
import { dimensionOf, isUnitCode, type UnitCode } from '@/lib/units/unit';
import type { NumberColumn, TimeForm, TraceColumns } from './csvTrace';

export const TIME_FORMS: readonly { readonly value: TimeForm; readonly label: string }[] = [
  { value: 'dateTime', label: 'date and time' },
  { value: 'epochSeconds', label: 'seconds since 1970' },
  { value: 'epochMilliseconds', label: 'milliseconds since 1970' },
  { value: 'elapsedSeconds', label: 'seconds since the first row' },
];

export const ELEVATION_UNITS = ['m', 'ft'] as const satisfies readonly UnitCode[];
export const SPEED_UNITS = ['m/s', 'km/h', 'mph'] as const satisfies readonly UnitCode[];
export const POWER_UNITS = ['W', 'kW'] as const satisfies readonly UnitCode[];

/** A mapping as typed: each column by its head, or by its number counted from 1. */
export interface NamedColumns {
  readonly latitude: string;
  readonly longitude: string;
  readonly time: string;
  readonly timeForm: string;
  readonly elevation: string;
  readonly elevationUnit: string;
  readonly speed: string;
  readonly speedUnit: string;
  readonly power: string;
  readonly powerUnit: string;
}

export const NAMED_COLUMNS: readonly (keyof NamedColumns)[] = [
  'latitude',
  'longitude',
  'time',
  'timeForm',
  'elevation',
  'elevationUnit',
  'speed',
  'speedUnit',
  'power',
  'powerUnit',
];

export type ColumnsResult =
  | { readonly ok: true; readonly columns: TraceColumns }
  | { readonly ok: false; readonly issues: readonly InputIssue[] };

/** Resolves a typed mapping against the heads of a file. Places and times are needed; the rest may stay empty. */
export function resolveColumns(header: readonly string[], named: Partial<NamedColumns>): ColumnsResult {
  const issues: InputIssue[] = [];
  const columnOf = (name: keyof NamedColumns, label: string, isNeeded: boolean): number | undefined => {
    const wanted = (named[name] ?? '').trim();
    if (wanted === '') {
      if (isNeeded) issues.push(missing(name, label));
      return undefined;
    }
    const byHead = header.findIndex((head) => head.toLowerCase() === wanted.toLowerCase());
    const byNumber = /^\d{1,3}$/.test(wanted) ? Number(wanted) - 1 : -1;
    const column = byHead >= 0 ? byHead : byNumber;
    if (column >= 0 && column < header.length) return column;
    issues.push(unknown(name, wanted, header));
    return undefined;
  };
  const numberOf = (name: 'elevation' | 'speed' | 'power', label: string, units: readonly UnitCode[]) => {
    const column = columnOf(name, label, false);
    const unit = named[`${name}Unit`] ?? '';
    const known = units.find((candidate) => candidate === unit) ?? units[0];
    return column === undefined || known === undefined ? undefined : { column, unit: known };
  };
  const latitude = columnOf('latitude', 'latitude', true);
  const longitude = columnOf('longitude', 'longitude', true);
  const time = columnOf('time', 'time', true);
  const elevation = numberOf('elevation', 'elevation', ELEVATION_UNITS);
  const speed = numberOf('speed', 'speed', SPEED_UNITS);
  const power = numberOf('power', 'power', POWER_UNITS);
  if (issues.length > 0 || latitude === undefined || longitude === undefined || time === undefined)
    return { ok: false, issues };
  const form = TIME_FORMS.find(({ value }) => value === named.timeForm)?.value ?? 'dateTime';
  return {
    ok: true,
    columns: {
      latitude,
      longitude,
      time: { column: time, form },
      ...(elevation ? { elevation } : {}),
      ...(speed ? { speed } : {}),
      ...(power ? { power } : {}),
    },
  };
}

/** Usual heads of the three columns that are needed (common practice, no source); undefined when one is not there. */
export function guessColumns(header: readonly string[]): TraceColumns | undefined {
  const find = (form: RegExp) => header.findIndex((head) => form.test(head.trim().toLowerCase()));
  const latitude = find(/^lat(itude)?\b/);
  const longitude = find(/^(lon|lng|long)(gitude)?\b/);
  const time = find(/^(date[ _]?)?time( ?stamp)?\b|^utc\b/);
  if (latitude < 0 || longitude < 0 || time < 0) return undefined;
  const elevation = numberColumn(header, find(/^(ele|alt)(vation|itude)?\b/), ELEVATION_UNITS);
  const speed = numberColumn(header, find(/^speed\b/), SPEED_UNITS);
  return {
    latitude,
    longitude,
    time: { column: time, form: 'dateTime' },
    ...(elevation ? { elevation } : {}),
    ...(speed ? { speed } : {}),
  };
}

/** A speed without its unit in the head is left out: a wrong unit would be worse than none. Heights are in metres. */
function numberColumn(
  header: readonly string[],
  column: number,
  units: readonly UnitCode[],
): NumberColumn | undefined {
  const head = header[column];
  if (head === undefined) return undefined;
  const inHead = /[[(]([^)\]]+)[)\]]|[ _]([a-z/]+)$/i.exec(head.trim());
  const named = (inHead?.[1] ?? inHead?.[2] ?? '').trim();
  const unit = isUnitCode(named) ? units.find((candidate) => candidate === named) : undefined;
  if (unit !== undefined) return { column, unit };
  return units[0] !== undefined && dimensionOf(units[0]) === 'length' && named === ''
    ? { column, unit: units[0] }
    : undefined;
}

const missing = (name: string, label: string): InputIssue => ({
  path: `columns.${name}`,
  what: `The column of the ${label} is not named.`,
  why: 'A trace is made of places and times.',
  fix: 'Enter the head of the column, or its number counted from 1.',
});

const unknown = (name: string, wanted: string, header: readonly string[]): InputIssue => ({
  path: `columns.${name}`,
  what: `The file has no column “${wanted.slice(0, 40)}”.`,
  why: `Its columns are ${header.slice(0, 30).join(', ')}.`,
  fix: 'Enter one of these heads, or a number counted from 1.',
});
