import type { FieldSpec } from '@/lib/capture/sheet/columns';
import { CHOICE_FIELDS, QUANTITY_FIELDS, RUN_SECTIONS, type RunSection } from '@/lib/run/fields';

/** A column that a sheet of runs can have. */
export interface ImportField extends FieldSpec {
  readonly section: RunSection;
  /** What its cells hold, where it is neither a number with a unit nor free text. */
  readonly holds: 'quantity' | 'choice' | 'car' | 'setup' | 'loop' | 'cruiseClass' | 'text';
}

/** Headings in use for a quantity besides the form's own label. */
const QUANTITY_ALIASES: Readonly<Record<string, readonly string[]>> = {
  trueSpeed: ['true speed', 'GPS speed', 'cruise speed'],
  indicatedSpeed: ['indicated speed'],
  chargeStart: ['charge start', 'SoC start', 'start charge'],
  chargeEnd: ['charge end', 'SoC end', 'end charge'],
  tripDistance: ['trip distance', 'total distance'],
  tripEnergy: ['energy', 'trip energy', 'total energy'],
  tripEfficiency: ['consumption', 'efficiency', 'average consumption'],
  tripDuration: ['duration', 'trip time', 'total time'],
  tripMeanSpeed: ['average speed', 'mean speed'],
  airTemperature: ['temperature', 'outside temperature'],
  airPressure: ['pressure', 'barometer'],
  relativeHumidity: ['humidity'],
  windSpeed: ['wind', 'wind speed'],
  windFrom: ['wind direction'],
};

const SUBJECTS: readonly ImportField[] = [
  { name: 'carId', label: 'Car', section: 'setup', holds: 'car', isRequired: true, aliases: ['vehicle'] },
  {
    name: 'setupId',
    label: 'Setup',
    section: 'setup',
    holds: 'setup',
    isRequired: true,
    aliases: ['configuration'],
  },
  { name: 'loopId', label: 'Loop', section: 'loop', holds: 'loop', isRequired: true, aliases: ['route'] },
  {
    name: 'cruiseClassKey',
    label: 'Cruise speed class',
    section: 'loop',
    holds: 'cruiseClass',
    isRequired: true,
    aliases: ['speed class', 'class'],
  },
];

// Date and time stand in one column or in two; that one of the ways is taken is seen row by row.
const START: readonly ImportField[] = [
  {
    name: 'startedAtLocal',
    label: 'Start (date and time)',
    section: 'start',
    holds: 'text',
    isRequired: false,
    aliases: ['start', 'started', 'started at', 'date and time'],
  },
  {
    name: 'startDate',
    label: 'Date',
    section: 'start',
    holds: 'text',
    isRequired: false,
    aliases: ['start date', 'day'],
  },
  {
    name: 'startTime',
    label: 'Time of start',
    section: 'start',
    holds: 'text',
    isRequired: false,
    aliases: ['start time', 'departure'],
  },
  {
    name: 'utcOffsetMin',
    label: 'Offset from UTC',
    section: 'start',
    holds: 'text',
    isRequired: true,
    aliases: ['time zone', 'UTC offset', 'offset'],
  },
];

const CHOICES: readonly ImportField[] = CHOICE_FIELDS.map((field) => ({
  name: field.name,
  label: field.label,
  section: field.section,
  holds: 'choice',
  isRequired: field.isRequired,
}));

const QUANTITIES: readonly ImportField[] = QUANTITY_FIELDS.map((field) => ({
  name: field.quantity,
  label: field.label,
  section: field.section,
  holds: 'quantity',
  isRequired: field.isRequired,
  units: field.units,
  aliases: QUANTITY_ALIASES[field.quantity] ?? [],
}));

const TEXTS: readonly ImportField[] = [
  {
    name: 'stationReport',
    label: 'Weather report (METAR or SPECI)',
    section: 'conditions',
    holds: 'text',
    isRequired: false,
    aliases: ['station report', 'METAR'],
  },
  {
    name: 'notes',
    label: 'Notes',
    section: 'conditions',
    holds: 'text',
    isRequired: false,
    aliases: ['note', 'remarks', 'comment', 'comments'],
  },
];

/** Every column of a sheet of runs, in the order of the form: the template's order too. */
export const IMPORT_FIELDS: readonly ImportField[] = RUN_SECTIONS.flatMap(({ key }) =>
  [...SUBJECTS, ...START, ...CHOICES, ...QUANTITIES, ...TEXTS].filter((field) => field.section === key),
);
