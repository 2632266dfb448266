import type { QuantityReading } from '@/lib/run/runRecord';
import type { Estimated, ReducedRecord, WeatherSnapshot } from './snapshot';

/** Standard uncertainties that a run's own station reports give; absent where the typed value is another. */
export interface ReportedUncertainty {
  temperatureC?: number;
  relativeHumidity?: number;
  altimeterPa?: number;
  windSpeedMps?: number;
}

/** What the station's reports say of how well each condition is known; nothing without reports. */
export function reportedUncertainty(
  record: ReducedRecord,
  weather: WeatherSnapshot | null,
): ReportedUncertainty {
  return weather === null ? {} : uncertaintyOf(record, weather);
}

function uncertaintyOf(record: ReducedRecord, conditions: WeatherSnapshot): ReportedUncertainty {
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
