/** The station reports of a run's form as values for its fields. Nothing is written: the tester decides. */
import type { InputIssue } from '@/lib/run/errors';
import { choiceLabel, fieldNamed, quantityField, type RunQuantity } from '@/lib/run/fields/table';
import { parseLocalStart } from '@/lib/run/localStart';
import { readNumber, typedUnit, unitFieldName } from '@/lib/run/numberField';
import type { RunForm } from '@/lib/run/runForm';
import { formatQuantity, formatWithUncertainty } from '@/lib/units/format';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import type { Estimated, RunConditions } from './conditions';
import { type ReadReport, reportsOverRun } from './reportsOverRun';
import { splitReports } from './splitReports';

export interface WeatherValue {
  /** Of the form. */
  readonly name: string;
  readonly label: string;
  /** With its uncertainty, as shown. */
  readonly shown: string;
  readonly typed: string;
}

export interface WeatherOfForm {
  readonly reports: readonly ReadReport[];
  readonly conditions: RunConditions | null;
  readonly values: readonly WeatherValue[];
  /** What the form would hold; the reports' own text among it. */
  readonly fill: RunForm;
  readonly issues: readonly InputIssue[];
}

/** A run of unstated duration is taken as an hour. */
const assumedDurationS = 3600;
/** Of a station whose distance is not stated: own judgement. */
export const assumedStationDistanceM = 20_000;

export function weatherOfForm(text: string, form: RunForm, now: string): WeatherOfForm {
  const issues: InputIssue[] = [];
  const start = parseLocalStart(form.startedAtLocal ?? '', form.utcOffsetMin ?? '', now, issues);
  const none = { reports: [], conditions: null, values: [], fill: {} };
  if (start === undefined) return { ...none, issues };
  const startMs = Date.parse(start.startedAt);
  const over = reportsOverRun(text, {
    startMs,
    endMs: startMs + 1000 * (typedValue('tripDuration', form) ?? assumedDurationS),
    stationDistanceM: typedValue('stationDistance', form) ?? assumedStationDistanceM,
  });
  if (over.conditions === null) {
    issues.push({
      path: 'stationReport',
      what: over.refusal,
      why: 'Reports are METAR or SPECI lines of one station, within two hours of the run.',
      fix: 'Paste the line as issued, from four letters of the station and its time on.',
    });
    return { ...none, reports: over.reports, issues };
  }
  const rows = rowsOf(over.conditions, form);
  const fill: RunForm = {
    stationReport: splitReports(text).join('\n'),
    conditionsSource: 'stationReport',
  };
  for (const row of rows) Object.assign(fill, row.fill);
  return {
    reports: over.reports,
    conditions: over.conditions,
    values: rows.map(({ fill: _fill, ...value }) => value),
    fill,
    issues,
  };
}

interface Row extends WeatherValue {
  readonly fill: RunForm;
}

function rowsOf(conditions: RunConditions, form: RunForm): Row[] {
  const { temperatureC, dewPointC, relativeHumidity, altimeterPa, windSpeedMps, windFromDeg, gustMps } =
    conditions;
  // as many decimals as the reports have: a whole degree or knot stands for half of one to either side
  const degrees = conditions.temperatureStepK < 0.5 ? 1 : 0;
  const wind = conditions.windUnit ?? undefined;
  const winds = wind === undefined ? 1 : 0;
  const rows = [
    row('airTemperature', temperatureC, form, degrees),
    row('dewPoint', dewPointC, form, degrees),
    // One of the two says it; a humidity that is typed already must not contradict the dew point.
    form.relativeHumidity?.trim() ? row('relativeHumidity', relativeHumidity, form, 0) : null,
    row('airPressure', altimeterPa, form, 1),
    row('windSpeed', windSpeedMps, form, winds, wind),
    row('windFrom', windFromDeg === null ? null : { value: Math.round(windFromDeg) % 360, u: 0 }, form, 0),
    row('windGust', gustMps === null ? null : { value: gustMps, u: 0 }, form, winds, wind),
  ].flatMap((one) => (one === null ? [] : [one]));
  const airPressure = rows.find(({ name }) => name === 'airPressure');
  if (airPressure) Object.assign(airPressure.fill, { pressureKind: 'qnh' });
  const { precipitation } = conditions;
  if (precipitation === null) return rows;
  const { name, label } = fieldNamed('precipitation');
  return [
    ...rows,
    {
      name,
      label,
      shown: choiceLabel(name, precipitation),
      typed: form.precipitation ?? '',
      fill: { precipitation },
    },
  ];
}

function row(
  quantity: RunQuantity,
  estimate: Estimated | null,
  form: RunForm,
  decimals: number,
  reportedUnit?: UnitCode,
): Row | null {
  if (estimate === null) return null;
  const field = quantityField(quantity);
  const unitInForm = typedUnit(form, field) ?? field.units[0];
  const unit = field.units.find((candidate) => candidate === reportedUnit) ?? unitInForm;
  const text = textOf(estimate.value, unit, unit === 'inHg' ? 2 : decimals);
  const typed = form[quantity]?.trim() ?? '';
  return {
    name: quantity,
    label: field.label,
    shown:
      estimate.u > 0
        ? formatWithUncertainty(estimate.value, estimate.u, unit)
        : formatQuantity(estimate.value, unit, { decimals: unit === 'inHg' ? 2 : decimals }),
    typed: typed === '' ? '' : `${typed} ${unitSymbol(unitInForm)}`,
    fill: { [quantity]: text, [unitFieldName(quantity)]: unit },
  };
}

function textOf(value: number, unit: UnitCode, decimals: number): string {
  const shown = fromCanonical(value, unit).toFixed(decimals);
  return Number(shown) === 0 ? (0).toFixed(decimals) : shown;
}

/** A number of the form as typed so far, or nothing. */
function typedValue(quantity: RunQuantity, form: RunForm): number | undefined {
  const read = readNumber(form, quantityField(quantity));
  return read.kind === 'read' ? read.parsed.value : undefined;
}
