import type { RunRecord } from '@/lib/run/runRecord';
import type { WeatherSnapshot } from './snapshot';
import { temperatureUC } from './temperatureUncertainty';

/** The rows of a revision that hold what the record says: readings one a row, conditions with their source. */
export function readingRows(record: RunRecord) {
  return Object.values(record.readings).map((reading) => ({
    quantity: reading.quantity,
    moment: reading.moment,
    instrument: reading.instrument,
    enteredText: reading.enteredText,
    enteredUnit: reading.enteredUnit,
    value: reading.value,
    low: reading.low,
    high: reading.high,
  }));
}

export function conditionsRow(record: RunRecord, weather: WeatherSnapshot | null) {
  const { readings } = record;
  return {
    source: record.conditionsSource,
    airTemperatureC: readings.airTemperature?.value ?? Number.NaN,
    airTemperatureUC: temperatureUC(record, weather),
    pressurePa: readings.airPressure?.value ?? null,
    pressureKind: record.pressureKind,
    relativeHumidity: readings.relativeHumidity?.value ?? null,
    dewPointC: readings.dewPoint?.value ?? null,
    windSpeedMps: readings.windSpeed?.value ?? null,
    windFromDeg: readings.windFrom?.value ?? null,
    windGustMps: readings.windGust?.value ?? null,
    stationDistanceM: readings.stationDistance?.value ?? null,
    precipitation: record.precipitation,
    road: record.road,
    traffic: record.traffic,
    closeFollowing: record.closeFollowing,
    stationReport: record.stationReport ?? null,
  };
}
