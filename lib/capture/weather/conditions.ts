/**
 * The weather of a run out of the station reports around it: each quantity's mean over the run, with an uncertainty
 * that holds the report's rounding, the change during the run and the station's distance and height difference.
 *
 * Between reports values run straight; before the first and after the last they stay. Wind is averaged as a vector.
 */
import { relativeHumidityFromDewPoint } from '@/lib/physics/air';
import { type Said, said } from '@/lib/units/said';
import type { UnitCode } from '@/lib/units/unit';
import type { Interval } from '../readings';
import type { StationReport } from './stationReport';

/** From here on the page says how far the station is. Common practice, no source. */
const FAR_M = 50_000;

export interface ConditionsOptions {
  readonly startMs: number;
  readonly endMs: number;
  /** From the middle of the loop to the station. */
  readonly stationDistanceM: number;
  /** Mean height of the loop less the station's. */
  readonly heightAboveStationM?: number;
}

/** A value with its standard uncertainty (JCGM 100), same unit. */
export interface Estimated {
  readonly value: number;
  readonly u: number;
}

export interface RunConditions {
  readonly ok: true;
  readonly station: string;
  readonly reportsUsed: number;
  /** From the run to the nearest report, 0 when one falls into it. */
  readonly nearestReportS: number;
  readonly temperatureC: Estimated | null;
  readonly dewPointC: Estimated | null;
  readonly relativeHumidity: Estimated | null;
  /** The station's altimeter setting; it holds for the loop's region, whatever its height. */
  readonly altimeterPa: Estimated | null;
  /** Mean of the speeds, whatever their directions. */
  readonly windSpeedMps: Estimated | null;
  /** Direction of the mean wind vector; null when every report says variable or calm. */
  readonly windFromDeg: number | null;
  /** Length of the mean vector over the mean speed: 1 when the direction held. */
  readonly windSteadiness: number | null;
  readonly gustMps: number | null;
  /** Unit that the reports give whole numbers of; null where they differ. */
  readonly windUnit: UnitCode | null;
  /** Coarsest step of the temperatures reported: 1 K, or 0.1 K by a remark. */
  readonly temperatureStepK: number;
  readonly precipitation: 'none' | 'rain' | 'snow' | null;
  readonly notes: readonly Said[];
}

export interface ConditionsRefusal {
  readonly ok: false;
  readonly message: string;
}

/**
 * How far a station's air can be from the loop's: standard uncertainty at the station's fence and its growth per
 * kilometre. Priors of our own (common practice, no source), of the size of mesoscale differences over open country.
 */
export const stationDistancePriors = {
  temperatureC: { base: 0.3, perKm: 0.015 },
  relativeHumidity: { base: 0.02, perKm: 0.0006 },
  altimeterPa: { base: 20, perKm: 1 },
  windSpeedMps: { base: 0.4, perKm: 0.012 },
} as const;

/** ISO 2533 lapse of temperature with its spread from day to day; dew point falls by about 2 K/km in mixed air. */
const lapseKPerM = 0.0065;
const lapseUncertaintyKPerM = 0.003;
const dewPointLapseKPerM = 0.002;
const maxReportAwayMs = 2 * 3_600_000;

/** @param reports of one station, in any order; a later report of the same minute (a correction) replaces the earlier */
export function conditionsOver(
  reports: readonly StationReport[],
  options: ConditionsOptions,
): RunConditions | ConditionsRefusal {
  const { startMs, endMs, stationDistanceM, heightAboveStationM = 0 } = options;
  if (!(endMs > startMs)) return { ok: false, message: 'The run must end after it starts.' };
  if (!(stationDistanceM >= 0))
    return { ok: false, message: 'Give the distance to the station, zero or more.' };
  const stations = new Set(reports.map(({ station }) => station));
  if (stations.size > 1)
    return { ok: false, message: `Reports of several stations: ${[...stations].join(', ')}.` };
  const byTime = new Map(reports.map((report) => [report.timeMs, report]));
  const used = [...byTime.values()]
    .filter(({ timeMs }) => timeMs >= startMs - maxReportAwayMs && timeMs <= endMs + maxReportAwayMs)
    .sort((a, b) => a.timeMs - b.timeMs);
  const first = used[0];
  if (first === undefined) return { ok: false, message: 'No report lies within two hours of the run.' };

  const km = stationDistanceM / 1000;
  const away = (prior: { base: number; perKm: number }) => prior.base + prior.perKm * km;
  const window = { startMs, endMs };
  const temperature = meanOf(
    used,
    (report) => report.temperatureC,
    window,
    away(stationDistancePriors.temperatureC),
  );
  const dewPoint = meanOf(
    used,
    (report) => report.dewPointC,
    window,
    away(stationDistancePriors.temperatureC),
  );
  const temperatureC = temperature && {
    value: temperature.value - lapseKPerM * heightAboveStationM,
    u: Math.hypot(temperature.u, lapseUncertaintyKPerM * heightAboveStationM),
  };
  const dewPointC = dewPoint && {
    ...dewPoint,
    value: dewPoint.value - dewPointLapseKPerM * heightAboveStationM,
  };
  const wind = windOf(used, window, away(stationDistancePriors.windSpeedMps));
  const nearestReportS =
    Math.min(...used.map(({ timeMs }) => Math.max(0, startMs - timeMs, timeMs - endMs))) / 1000;
  const notes: Said[] = [];
  if (nearestReportS > 0)
    notes.push(said`The nearest report is ${Math.round(nearestReportS / 60)} min from the run.`);
  if (stationDistanceM > FAR_M)
    notes.push(said`The station is ${{ value: stationDistanceM, unit: 'km', decimals: 0 }} away.`);
  const falling = used.map(({ precipitation }) => precipitation);
  return {
    ok: true,
    station: first.station,
    reportsUsed: used.length,
    nearestReportS,
    temperatureC,
    dewPointC,
    relativeHumidity: humidityFrom(temperatureC, dewPointC, away(stationDistancePriors.relativeHumidity)),
    altimeterPa: meanOf(
      used,
      (report) => report.altimeterPa,
      window,
      away(stationDistancePriors.altimeterPa),
    ),
    ...wind,
    windUnit: soleUnit(used),
    temperatureStepK: Math.max(
      0.1,
      ...used.flatMap(({ temperatureC: t }) => (t === null ? [] : [t.high - t.low])),
    ),
    // Rain in any report around the run makes the road suspect.
    precipitation: falling.includes('snow')
      ? 'snow'
      : falling.includes('rain')
        ? 'rain'
        : falling.includes('none')
          ? 'none'
          : null,
    notes,
  };
}

function soleUnit(reports: readonly StationReport[]): UnitCode | null {
  const units = new Set(reports.flatMap(({ wind }) => (wind === null ? [] : [wind.unit])));
  return units.size === 1 ? ([...units][0] ?? null) : null;
}

interface Window {
  readonly startMs: number;
  readonly endMs: number;
}

/** Mean over the window of a line through the reports' interval middles. */
function meanOf(
  reports: readonly StationReport[],
  read: (report: StationReport) => Interval | null,
  window: Window,
  awayU: number,
): Estimated | null {
  const known = reports.flatMap((report) => {
    const interval = read(report);
    return interval === null ? [] : [{ timeMs: report.timeMs, interval }];
  });
  if (known.length === 0) return null;
  const middles = known.map(({ timeMs, interval }) => ({
    timeMs,
    value: (interval.low + interval.high) / 2,
  }));
  const value = timeMean(middles, window);
  const resolution = Math.max(...known.map(({ interval }) => interval.high - interval.low)) / Math.sqrt(12);
  // The change over the reports, taken as rectangular: the run's own minutes may lie anywhere in it.
  const values = middles.map((middle) => middle.value);
  const change = (Math.max(...values) - Math.min(...values)) / Math.sqrt(12);
  return { value, u: Math.hypot(resolution, change, awayU) };
}

/** Exact mean of the piecewise straight line through the points, held constant outside them. */
export function timeMean(points: readonly { timeMs: number; value: number }[], window: Window): number {
  const at = (timeMs: number): number => {
    const after = points.findIndex((point) => point.timeMs >= timeMs);
    if (after === 0) return (points[0] as { value: number }).value;
    const b = points[after];
    const a = points[(after < 0 ? points.length : after) - 1] as { timeMs: number; value: number };
    return b === undefined
      ? a.value
      : a.value + ((b.value - a.value) * (timeMs - a.timeMs)) / (b.timeMs - a.timeMs);
  };
  const inside = points.map(({ timeMs }) => timeMs).filter((t) => t > window.startMs && t < window.endMs);
  const knots = [window.startMs, ...inside, window.endMs];
  let area = 0;
  for (let k = 1; k < knots.length; k++) {
    const [from, to] = [knots[k - 1] as number, knots[k] as number];
    area += ((at(from) + at(to)) / 2) * (to - from);
  }
  return area / (window.endMs - window.startMs);
}

function humidityFrom(
  temperatureC: Estimated | null,
  dewPointC: Estimated | null,
  awayU: number,
): Estimated | null {
  if (temperatureC === null || dewPointC === null) return null;
  const of = (t: number, d: number) => Math.min(1, relativeHumidityFromDewPoint(t, d));
  const value = of(temperatureC.value, dewPointC.value);
  // First order, by central differences over one standard uncertainty.
  const byT =
    (of(temperatureC.value + temperatureC.u, dewPointC.value) -
      of(temperatureC.value - temperatureC.u, dewPointC.value)) /
    2;
  const byD =
    (of(temperatureC.value, dewPointC.value + dewPointC.u) -
      of(temperatureC.value, dewPointC.value - dewPointC.u)) /
    2;
  return { value, u: Math.hypot(byT, byD, awayU) };
}

function windOf(
  reports: readonly StationReport[],
  window: Window,
  awayU: number,
): Pick<RunConditions, 'windSpeedMps' | 'windFromDeg' | 'windSteadiness' | 'gustMps'> {
  const windSpeedMps = meanOf(reports, (report) => report.wind?.speedMps ?? null, window, awayU);
  const directed = reports.flatMap(({ timeMs, wind }) =>
    wind === null || wind.fromDeg === null || wind.speedMps.value === 0
      ? []
      : [{ timeMs, speed: wind.speedMps.value, radians: (wind.fromDeg * Math.PI) / 180 }],
  );
  const gusts = reports.flatMap(({ wind }) => (wind?.gustMps == null ? [] : [wind.gustMps]));
  const gustMps = gusts.length === 0 ? null : Math.max(...gusts);
  if (windSpeedMps === null || directed.length === 0) {
    return { windSpeedMps, windFromDeg: null, windSteadiness: null, gustMps };
  }
  const component = (of: (radians: number) => number) =>
    timeMean(
      directed.map(({ timeMs, speed, radians }) => ({ timeMs, value: speed * of(radians) })),
      window,
    );
  const [north, east] = [component(Math.cos), component(Math.sin)];
  const meanSpeed = timeMean(
    directed.map(({ timeMs, speed }) => ({ timeMs, value: speed })),
    window,
  );
  const from = (Math.atan2(east, north) * 180) / Math.PI;
  const steadiness = Math.min(1, Math.hypot(north, east) / meanSpeed);
  return {
    windSpeedMps,
    windFromDeg: steadiness < 0.05 ? null : (from + 360) % 360,
    windSteadiness: steadiness,
    gustMps,
  };
}
