import { z } from 'zod';
import { formatQuantity } from '@/lib/units/format';
import { parseQuantity } from '@/lib/units/parse';
import { fromCanonical, type UnitCode } from '@/lib/units/unit';
import { contradictions } from './contradictions';
import { cruiseClassByKey } from './cruiseClass';
import type { InputIssue } from './errors';
import {
  CHOICE_FIELDS,
  type ChoiceFieldDefinition,
  QUANTITY_FIELDS,
  type QuantityField,
  type RunForm,
  unitFieldName,
} from './fields';
import { parseLocalStart } from './localStart';
import type {
  ChargerKind,
  Climate,
  CloseFollowing,
  ConditionsSource,
  Precipitation,
  PressureKind,
  QuantityReading,
  Readings,
  RoadState,
  RunQuantity,
  RunRecord,
  TrafficState,
  TrueSpeedMethod,
} from './runRecord';

/** What comes over the wire: a flat map of short texts. The bound keeps a hostile body small. */
export const runFormSchema = z
  .record(z.string().max(60), z.string().max(4000))
  .refine((form) => Object.keys(form).length <= 200, 'too many fields')
  // PostgreSQL keeps no NUL in a text.
  .refine((form) => !Object.entries(form).some((entry) => entry.some((text) => text.includes('\0'))), {
    message: 'A text holds a NUL character. | No keyboard types one. | Type the text again.',
  });

export type ParsedRunForm = { ok: true; record: RunRecord } | { ok: false; issues: InputIssue[] };

export interface ParseContext {
  /** The instant of parsing, ISO 8601: a run cannot lie after it. */
  now: string;
}

/**
 * Turns the form as typed into a run record in canonical units, or into one issue per field:
 * what is wrong, why, and what to do.
 */
export function parseRunForm(form: RunForm, context: ParseContext): ParsedRunForm {
  const issues: InputIssue[] = [];
  const readings: Readings = {};
  for (const field of QUANTITY_FIELDS) {
    const reading = parseReading(field, form, issues);
    if (reading !== undefined) readings[field.quantity] = reading;
  }
  const choices = parseChoices(form, issues);
  const ids = parseIds(form, issues);
  const start = parseLocalStart(form.startedAtLocal ?? '', form.utcOffsetMin ?? '', context.now, issues);
  requireTogether(readings, choices, issues);
  issues.push(...contradictions(readings));
  if (issues.length > 0 || start === undefined) return { ok: false, issues };
  return {
    ok: true,
    record: {
      ...ids,
      ...start,
      readings,
      trueSpeedMethod: choices.trueSpeedMethod as TrueSpeedMethod,
      climate: choices.climate as Climate,
      chargerKind: choices.chargerKind as ChargerKind | undefined,
      pressureKind: choices.pressureKind as PressureKind,
      precipitation: choices.precipitation as Precipitation,
      road: choices.road as RoadState,
      traffic: choices.traffic as TrafficState,
      closeFollowing: choices.closeFollowing as CloseFollowing,
      conditionsSource: choices.conditionsSource as ConditionsSource,
      stationReport: textOrUndefined(form.stationReport),
      isRetrospective: form.isRetrospective === 'yes',
      notes: (form.notes ?? '').trim(),
    },
  };
}

function parseReading(
  field: QuantityField,
  form: RunForm,
  issues: InputIssue[],
): QuantityReading | undefined {
  const text = (form[field.quantity] ?? '').trim();
  const unit = unitOf(field, form, issues);
  if (text === '') {
    if (field.isRequired) {
      issues.push({
        path: field.quantity,
        what: `${field.label} is missing.`,
        why: 'A run cannot be reduced without it.',
        fix: 'Enter the number as it was shown.',
      });
    }
    return undefined;
  }
  if (unit === undefined) return undefined;
  const parsed = parseQuantity(text, unit, {
    allowNegative: field.allowNegative ?? false,
    rounding: field.rounding ?? 'nearest',
  });
  if (!parsed.ok) {
    issues.push({
      path: field.quantity,
      what: `“${text.slice(0, 40)}” cannot be ${field.label.toLowerCase()}.`,
      why: parsed.message,
      fix: 'Enter the number as the display showed it, digits and one decimal mark.',
    });
    return undefined;
  }
  const [least, most] = field.plausible;
  if (parsed.value < least || parsed.value > most) {
    issues.push(outsidePlausible(field, text, unit, parsed.value));
    return undefined;
  }
  return {
    quantity: field.quantity,
    moment: field.moment,
    instrument: field.instrument,
    enteredText: text,
    enteredUnit: unit,
    value: parsed.value,
    low: parsed.low,
    high: parsed.high,
  };
}

function unitOf(field: QuantityField, form: RunForm, issues: InputIssue[]): UnitCode | undefined {
  const name = unitFieldName(field.quantity);
  const text = form[name] ?? field.units[0];
  const unit = field.units.find((candidate) => candidate === text);
  if (unit === undefined) {
    issues.push({
      path: name,
      what: `“${text.slice(0, 20)}” is not a unit of ${field.label.toLowerCase()}.`,
      why: 'The unit decides what the number means.',
      fix: `Choose one of ${field.units.join(', ')}.`,
    });
  }
  return unit;
}

/** Out of the fence: if another unit of the same field would bring it inside, say so. */
function outsidePlausible(field: QuantityField, text: string, unit: UnitCode, value: number): InputIssue {
  const [least, most] = field.plausible;
  const other = field.units.find((candidate) => {
    if (candidate === unit) return false;
    const reparsed = parseQuantity(text, candidate, { allowNegative: field.allowNegative ?? false });
    return reparsed.ok && reparsed.value >= least && reparsed.value <= most;
  });
  const ends = [fromCanonical(least === 0 ? 0 : least, unit), fromCanonical(most, unit)].sort(
    (a, b) => a - b,
  );
  const range = `${formatQuantity(ends[0] ?? 0, unit, { decimals: 0 })} to ${formatQuantity(ends[1] ?? 0, unit, { decimals: 0 })}`;
  return {
    path: field.quantity,
    what: `${text.slice(0, 40)} ${unit} is not possible for ${field.label.toLowerCase()}.`,
    why: `Anything a road car can do lies within ${Number.isFinite(value) ? range : 'finite numbers'}.`,
    fix:
      other === undefined
        ? 'Check the digits and the unit.'
        : `Did the display say ${other}? Choose that unit.`,
  };
}

function parseChoices(form: RunForm, issues: InputIssue[]): Record<string, string | undefined> {
  const choices: Record<string, string | undefined> = {};
  for (const field of CHOICE_FIELDS as readonly ChoiceFieldDefinition[]) {
    const value = textOrUndefined(form[field.name]);
    if (value === undefined) {
      if (field.isRequired) {
        issues.push({
          path: field.name,
          what: `${field.label}: nothing chosen.`,
          why: 'The protocol needs to know it to judge the run.',
          fix: 'Choose one.',
        });
      }
    } else if (!field.options.some((option) => option.value === value)) {
      issues.push({
        path: field.name,
        what: `“${value.slice(0, 40)}” is not one of the choices.`,
        why: 'Only the listed values have a meaning.',
        fix: `Choose one of: ${field.options.map((option) => option.label).join(', ')}.`,
      });
    } else {
      choices[field.name] = value;
    }
  }
  return choices;
}

const ID = z.uuid();

function parseIds(form: RunForm, issues: InputIssue[]) {
  const required = (name: string, label: string): string => {
    const value = (form[name] ?? '').trim();
    if (!ID.safeParse(value).success) {
      issues.push({
        path: name,
        what: `No ${label} chosen.`,
        why: 'A run belongs to one car, one setup and one loop.',
        fix: `Choose the ${label}; add it first if it is not in the list.`,
      });
    }
    return value;
  };
  const cruiseClassKey = (form.cruiseClassKey ?? '').trim();
  if (cruiseClassByKey(cruiseClassKey) === undefined) {
    issues.push({
      path: 'cruiseClassKey',
      what: 'No cruise speed class chosen.',
      why: 'Only runs of one speed class are compared.',
      fix: 'Choose the true speed that you meant to hold.',
    });
  }
  return {
    carId: required('carId', 'car'),
    setupId: required('setupId', 'setup'),
    loopId: required('loopId', 'loop'),
    cruiseClassKey,
  };
}

function requireTogether(
  readings: Readings,
  choices: Record<string, string | undefined>,
  issues: InputIssue[],
): void {
  const alreadyWrong = (path: RunQuantity) => issues.some((issue) => issue.path === path);
  if (
    readings.tripEnergy === undefined &&
    readings.tripEfficiency === undefined &&
    !alreadyWrong('tripEnergy') &&
    !alreadyWrong('tripEfficiency')
  ) {
    issues.push({
      path: 'tripEnergy',
      what: 'No energy reading.',
      why: 'Consumption is energy over distance; the change of charge alone is too coarse.',
      fix: 'Enter the energy used, the average consumption shown, or both.',
    });
  }
  if (readings.chargerEnergy !== undefined && choices.chargerKind === undefined) {
    issues.push({
      path: 'chargerKind',
      what: 'Which kind of charger was it?',
      why: 'Fast chargers and wall boxes lose different shares.',
      fix: 'Choose DC or AC.',
    });
  }
  const kind = choices.pressureKind;
  if (
    readings.airPressure === undefined &&
    kind !== undefined &&
    kind !== 'altitudeOnly' &&
    !alreadyWrong('airPressure')
  ) {
    issues.push({
      path: 'airPressure',
      what: 'The pressure itself is missing.',
      why: 'A kind of pressure was chosen, but no value.',
      fix: 'Enter the pressure, or choose “Not known: use the loop’s altitude”.',
    });
  }
  if (readings.airPressure !== undefined && kind === 'altitudeOnly') {
    issues.push({
      path: 'pressureKind',
      what: 'A pressure was entered without its kind.',
      why: 'Altimeter setting, sea-level and local pressure differ by several per cent high up.',
      fix: 'Choose which one it is, or clear the pressure.',
    });
  }
  if (
    readings.windFrom === undefined &&
    (readings.windSpeed?.value ?? 0) > 0.5 &&
    !alreadyWrong('windFrom')
  ) {
    issues.push({
      path: 'windFrom',
      what: 'The wind’s direction is missing.',
      why: 'Along and across the road the same wind costs very different amounts.',
      fix: 'Enter the direction that it blew from, in degrees (90 is east).',
    });
  }
}

function textOrUndefined(text: string | undefined): string | undefined {
  const trimmed = text?.trim() ?? '';
  return trimmed === '' ? undefined : trimmed;
}
