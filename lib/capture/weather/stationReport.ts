/**
 * A METAR or SPECI (WMO FM 15, FM 16) as numbers in canonical units with the intervals its rounding leaves.
 *
 * Rounding as ICAO Annex 3, appendix 3 lays it down: temperature and dew point to the nearest degree (a tenth where a
 * North American T remark gives it), wind direction to 10°, speed to a knot or m/s, QNH downwards to a whole
 * hectopascal. A report names day, hour and minute only: month and year come from the instant it is pasted for.
 */
import { DistanceUnit, type IMetar, parseMetar, RemarkType } from 'metar-taf-parser';
import { relativeHumidityFromDewPoint } from '@/lib/physics/air';
import { toCanonical, type UnitCode } from '@/lib/units/unit';
import type { Interval } from '../readings';
import { type ReportedWind, readWind } from './reportedWind';
import { type GroupKind, isForecast, sortGroups } from './reportGroups';

export type ReportedPrecipitation = 'none' | 'rain' | 'snow';

export interface StationReport {
  readonly ok: true;
  readonly station: string;
  readonly kind: 'METAR' | 'SPECI' | null;
  readonly timeMs: number;
  readonly isAutomatic: boolean;
  readonly temperatureC: Interval | null;
  readonly dewPointC: Interval | null;
  /** Over water, from both by the Magnus form; ends from the ends. */
  readonly relativeHumidity: Interval | null;
  readonly wind: ReportedWind | null;
  readonly altimeterPa: Interval | null;
  /** Null where an automatic station cannot tell. */
  readonly precipitation: ReportedPrecipitation | null;
  readonly visibility: { readonly distanceM: number; readonly isAtLeast: boolean } | null;
  readonly notReported: readonly string[];
  /** Groups that were not understood, as they stand; their values are missing, not guessed. */
  readonly unread: readonly string[];
  /** Trend forecast and remarks: read past, and not used. */
  readonly forecast: readonly string[];
  readonly remarks: readonly string[];
}

export interface ReportRefusal {
  readonly ok: false;
  readonly message: string;
}

const maxLength = 2000;
const dayMs = 86_400_000;
/** A report older or newer than this cannot be told from last or next month's. */
const maxAwayMs = 14 * dayMs;
const solid: ReadonlySet<string> = new Set(['SN', 'SG', 'IC', 'PL', 'GR', 'GS']);
const liquid: ReadonlySet<string> = new Set(['RA', 'DZ', 'UP']);

/** @param referenceMs an instant near the report's, such as the start of the run */
export function parseStationReport(text: string, referenceMs: number): StationReport | ReportRefusal {
  if (text.length > maxLength) return refuse('The report is too long. Paste one METAR or SPECI.');
  if (isForecast(text)) {
    return refuse(
      'This is a forecast (TAF), not an observation. Paste the METAR or SPECI of the time of the run.',
    );
  }
  const sorted = sortGroups(text);
  const of = (kind: GroupKind) =>
    sorted.groups.filter((group) => group.kind === kind).map((group) => group.text);
  const station = of('station')[0];
  const time = of('time')[0];
  if (station === undefined)
    return refuse('The report has no station: four letters such as those of an aerodrome.');
  if (time === undefined) return refuse('The report has no time: day, hour and minute such as 221630Z.');
  if (of('modifier').includes('NIL')) return refuse('The report says that there is no observation (NIL).');
  const timeMs = resolveTime(time, referenceMs);
  if (timeMs === null) return refuse(`${time} is no real time within two weeks of the run.`);

  const parsed = parseKnown(sorted.groups, sorted.remarks);
  if (parsed === null) return refuse('The report could not be read.');
  const unread = [...sorted.unread];
  const wind = readWind(of('wind')[0], of('windVariation')[0], unread);
  const [temperatureC, dewPointC] = readTemperatures(parsed, of('temperature')[0], unread);
  const pressure = of('pressure');
  const altimeterPa = readAltimeter(pressure, unread);
  return {
    ok: true,
    station,
    kind: of('type')[0] === 'SPECI' ? 'SPECI' : of('type')[0] === 'METAR' ? 'METAR' : null,
    timeMs,
    isAutomatic: of('modifier').includes('AUTO'),
    temperatureC,
    dewPointC,
    relativeHumidity: humidityOf(temperatureC, dewPointC),
    wind,
    altimeterPa,
    precipitation: sorted.notReported.includes('//') ? null : precipitationOf(of('weather')),
    visibility: readVisibility(parsed),
    notReported: sorted.notReported,
    unread,
    forecast: sorted.forecast,
    remarks: sorted.remarks,
  };
}

/** Month and year such that the day, hour and minute come nearest to the reference. */
function resolveTime(group: string, referenceMs: number): number | null {
  const [day, hour, minute] = [group.slice(0, 2), group.slice(2, 4), group.slice(4, 6)].map(Number) as [
    number,
    number,
    number,
  ];
  if (day < 1 || day > 31 || hour > 23 || minute > 59 || !Number.isFinite(referenceMs)) return null;
  const near = new Date(referenceMs);
  let best: number | null = null;
  for (const shift of [-1, 0, 1]) {
    const at = Date.UTC(near.getUTCFullYear(), near.getUTCMonth() + shift, day, hour, minute);
    // A day the month does not have would roll over into the next.
    if (new Date(at).getUTCDate() !== day) continue;
    if (best === null || Math.abs(at - referenceMs) < Math.abs(best - referenceMs)) best = at;
  }
  return best !== null && Math.abs(best - referenceMs) <= maxAwayMs ? best : null;
}

/** Only groups of a known form go to the parser, in their own order, so that a stray word cannot shift another. */
function parseKnown(groups: readonly { text: string }[], remarks: readonly string[]): IMetar | null {
  const tenths = remarks.filter((remark) => /^T[01]\d{3}[01]\d{3}$/.test(remark));
  const body = groups.map(({ text }) => text).join(' ');
  try {
    return parseMetar(tenths.length === 1 ? `${body} RMK ${tenths[0]}` : body);
  } catch {
    // The library's own errors say no more than that the statement is not one.
    return null;
  }
}

/** M05 is −5; M00 is between −0.5 and 0: the same degree as 00. A missing dew point is nothing or slashes. */
function degreesOf(text: string | undefined): number | null {
  const match = /^(M?)(\d{2})$/.exec(text ?? '');
  return match === null ? null : (match[1] === 'M' ? -1 : 1) * Number(match[2]) + 0;
}

function readTemperatures(
  parsed: IMetar,
  group: string | undefined,
  unread: string[],
): [Interval | null, Interval | null] {
  if (group === undefined) return [null, null];
  const around = (value: number, half: number): Interval => ({
    value,
    low: value - half,
    high: value + half,
  });
  const [air, dew] = group.split('/');
  const whole = [degreesOf(air), degreesOf(dew)] as const;
  // an air temperature of the surface of the earth, and a dew point not above it but by the rounding of both
  if (whole[0] === null || Math.abs(whole[0]) > 60 || (whole[1] !== null && whole[1] > whole[0])) {
    unread.push(group);
    return [null, null];
  }
  const remark = parsed.remarks.find((entry) => entry.type === RemarkType.HourlyTemperatureDewPoint);
  if (remark !== undefined && 'temperature' in remark && 'dewPoint' in remark) {
    const fits = (tenth: number, degree: number | null) => degree !== null && Math.abs(tenth - degree) <= 0.6;
    if (typeof remark.temperature === 'number' && typeof remark.dewPoint === 'number') {
      if (fits(remark.temperature, whole[0]) && fits(remark.dewPoint, whole[1])) {
        return [around(remark.temperature, 0.05), around(remark.dewPoint, 0.05)];
      }
    }
  }
  return [around(whole[0], 0.5), whole[1] === null ? null : around(whole[1], 0.5)];
}

function humidityOf(temperatureC: Interval | null, dewPointC: Interval | null): Interval | null {
  if (temperatureC === null || dewPointC === null) return null;
  const bound = (t: number, d: number) => Math.min(1, relativeHumidityFromDewPoint(t, d));
  return {
    value: bound(temperatureC.value, dewPointC.value),
    low: bound(temperatureC.high, dewPointC.low),
    high: bound(temperatureC.low, dewPointC.high),
  };
}

/** Where both Q and A stand, the finer A is taken if they agree, and neither if they do not. */
function readAltimeter(groups: readonly string[], unread: string[]): Interval | null {
  const read = (prefix: string) => groups.filter((group) => group.startsWith(prefix));
  const [q, a] = [read('Q'), read('A')];
  if (q.length > 1 || a.length > 1) {
    unread.push(...groups);
    return null;
  }
  const hectopascals = q[0] === undefined ? null : Number(q[0].slice(1));
  const inches = a[0] === undefined ? null : Number(a[0].slice(1)) / 100;
  const fromQ = hectopascals === null ? null : stepUp(hectopascals, 1, 'hPa');
  const fromA = inches === null ? null : stepUp(inches, 0.01, 'inHg');
  const plausible = [fromQ, fromA].filter(
    (p): p is Interval => p !== null && p.value > 85_000 && p.value < 110_000,
  );
  const isWhole = plausible.length === groups.length;
  const agree =
    fromQ === null || fromA === null || (fromA.low <= fromQ.high + 34 && fromQ.low <= fromA.high + 34);
  if (isWhole && agree) return fromA ?? fromQ;
  unread.push(...groups);
  return null;
}

/** Both settings are rounded downwards: the true one lies in the step above. */
function stepUp(shown: number, step: number, unit: UnitCode): Interval {
  const value = toCanonical(shown, unit);
  return { value, low: value, high: toCanonical(shown + step, unit) };
}

function precipitationOf(groups: readonly string[]): ReportedPrecipitation {
  let found: ReportedPrecipitation = 'none';
  for (const group of groups) {
    // In the vicinity is not at the station; what blows about does not fall.
    if (group.startsWith('VC') || /^[+-]?(DR|BL)/.test(group)) continue;
    const codes = group.replace(/^[+-]/, '').match(/../g) ?? [];
    if (codes.some((code) => solid.has(code))) return 'snow';
    // A shower or storm of no named kind still falls; in dry storms the descriptor stands alone as TS.
    if (codes.some((code) => liquid.has(code)) || codes.join('') === 'SH') found = 'rain';
  }
  return found;
}

function readVisibility(parsed: IMetar): StationReport['visibility'] {
  const { visibility } = parsed;
  if (visibility === undefined) return null;
  const isMiles = visibility.unit === DistanceUnit.StatuteMiles;
  const isOpen = !isMiles && visibility.value === 9999;
  return {
    distanceM: isOpen ? 10_000 : toCanonical(visibility.value, isMiles ? 'mi' : 'm'),
    isAtLeast: isOpen || visibility.indicator === 'P',
  };
}

function refuse(message: string): ReportRefusal {
  return { ok: false, message };
}
