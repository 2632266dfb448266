import {
  ELEVATION_UNITS,
  NAMED_COLUMNS,
  POWER_UNITS,
  SPEED_UNITS,
  TIME_FORMS,
} from '@/lib/capture/trace/csvColumns';
import { traceLimits } from '@/lib/capture/trace/tracePoint';
import { unitSymbol } from '@/lib/units/unit';

export const TRACE_LIMIT_TEXT = `${traceLimits.maxBytes / 1024 / 1024} MB`;
export const TRACE_TYPES = '.gpx,.csv,.geojson,.json,application/gpx+xml,text/csv,application/geo+json';

/** Field of the form by column of a CSV; the issue of a column has the same name. */
export const NAMED_COLUMN_FIELDS = NAMED_COLUMNS.map((column) => ({ field: `columns.${column}`, column }));

const unitOptions = (units: readonly Parameters<typeof unitSymbol>[0][]) =>
  units.map((value) => ({ value, label: unitSymbol(value) }));

export const COLUMN_ROWS = [
  { column: 'latitude', label: 'Latitude, degrees', choice: undefined },
  { column: 'longitude', label: 'Longitude, degrees', choice: undefined },
  { column: 'time', label: 'Time', choice: { column: 'timeForm', label: 'Time as', options: TIME_FORMS } },
  {
    column: 'elevation',
    label: 'Elevation, where there is one',
    choice: { column: 'elevationUnit', label: 'Unit of elevation', options: unitOptions(ELEVATION_UNITS) },
  },
  {
    column: 'speed',
    label: 'Speed by the receiver, where there is one',
    choice: { column: 'speedUnit', label: 'Unit of speed', options: unitOptions(SPEED_UNITS) },
  },
  {
    column: 'power',
    label: 'Battery power, where there is one',
    choice: { column: 'powerUnit', label: 'Unit of power', options: unitOptions(POWER_UNITS) },
  },
] as const;
