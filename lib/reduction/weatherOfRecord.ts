import { reportsOverRun } from '@/lib/capture/weather/reportsOverRun';
import { assumedStationDistanceM } from '@/lib/capture/weather/weatherOfForm';
import type { RunRecord } from '@/lib/run/runRecord';
import type { WeatherSnapshot } from './snapshot';

/** The weather over the run by the reports that stand in its record; null without any that can be read. */
export function weatherOfRecord(record: RunRecord): WeatherSnapshot | null {
  const { tripDuration, stationDistance } = record.readings;
  if (record.conditionsSource !== 'stationReport' || !record.stationReport || !tripDuration) return null;
  const startMs = Date.parse(record.startedAt);
  const { conditions } = reportsOverRun(record.stationReport, {
    startMs,
    endMs: startMs + 1000 * tripDuration.value,
    stationDistanceM: stationDistance?.value ?? assumedStationDistanceM,
  });
  if (conditions === null) return null;
  const { temperatureC, dewPointC, relativeHumidity, altimeterPa, windSpeedMps } = conditions;
  return { temperatureC, dewPointC, relativeHumidity, altimeterPa, windSpeedMps };
}
