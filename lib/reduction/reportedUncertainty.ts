import type { Estimated, RunConditions } from '@/lib/capture/weather/conditions';
import { reportsOverRun } from '@/lib/capture/weather/reportsOverRun';
import { assumedStationDistanceM } from '@/lib/capture/weather/weatherOfForm';
import type { QuantityReading, RunRecord } from '@/lib/run/runRecord';

/** Standard uncertainties that a run's own station reports give; absent where the typed value is another. */
export interface ReportedUncertainty {
  temperatureC?: number;
  relativeHumidity?: number;
  altimeterPa?: number;
  windSpeedMps?: number;
}

const known = new WeakMap<RunRecord, ReportedUncertainty>();

/** Read once a record: the reduction asks for one quantity after the other. */
export function reportedUncertainty(record: RunRecord): ReportedUncertainty {
  const before = known.get(record);
  if (before !== undefined) return before;
  const conditions = reportedConditions(record);
  const result = conditions === null ? {} : uncertaintyOf(record, conditions);
  known.set(record, result);
  return result;
}

/** The weather over the run by the reports that stand in its record; null without any that can be read. */
export function reportedConditions(record: RunRecord): RunConditions | null {
  const { tripDuration, stationDistance } = record.readings;
  if (record.conditionsSource !== 'stationReport' || !record.stationReport || !tripDuration) return null;
  const startMs = Date.parse(record.startedAt);
  return reportsOverRun(record.stationReport, {
    startMs,
    endMs: startMs + 1000 * tripDuration.value,
    stationDistanceM: stationDistance?.value ?? assumedStationDistanceM,
  }).conditions;
}

function uncertaintyOf(record: RunRecord, conditions: RunConditions): ReportedUncertainty {
  const { airTemperature, dewPoint, relativeHumidity, airPressure, windSpeed } = record.readings;
  const isReported = {
    temperature: speaksOf(airTemperature, conditions.temperatureC),
    humidity: relativeHumidity
      ? speaksOf(relativeHumidity, conditions.relativeHumidity)
      : speaksOf(dewPoint, conditions.dewPointC),
    altimeter: record.pressureKind === 'qnh' && speaksOf(airPressure, conditions.altimeterPa),
    wind: speaksOf(windSpeed, conditions.windSpeedMps),
  };
  const u = (is: boolean, estimate: Estimated | null) => (is && estimate !== null ? estimate.u : undefined);
  return defined({
    temperatureC: u(isReported.temperature, conditions.temperatureC),
    relativeHumidity: u(isReported.humidity, conditions.relativeHumidity),
    altimeterPa: u(isReported.altimeter, conditions.altimeterPa),
    windSpeedMps: u(isReported.wind, conditions.windSpeedMps),
  });
}

/** The typed number is the report's, but for its rounding or half its own uncertainty; else it is someone's own. */
function speaksOf(reading: QuantityReading | undefined, estimate: Estimated | null): boolean {
  if (reading === undefined || estimate === null) return false;
  const slack = Math.max((reading.high - reading.low) / 2, estimate.u / 2);
  return Math.abs(reading.value - estimate.value) <= slack;
}

function defined(all: Record<keyof ReportedUncertainty, number | undefined>): ReportedUncertainty {
  return Object.fromEntries(Object.entries(all).filter(([, u]) => u !== undefined));
}
