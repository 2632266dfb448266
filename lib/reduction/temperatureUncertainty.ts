import { reportedUncertainty } from './reportedUncertainty';
import type { ReducedRecord, WeatherSnapshot } from './snapshot';

/**
 * Standard uncertainty of the air temperature over the loop by where it comes from: a station nearby, an instrument at
 * the loop, the car's own sensor warmed by the road, or a forecast. Common practice, no source. Where the station's
 * reports stand in the record, they tell it themselves.
 */
export function temperatureUC(record: ReducedRecord, weather: WeatherSnapshot | null): number {
  const { temperatureC: byReports } = reportedUncertainty(record, weather);
  if (byReports !== undefined) return byReports;
  const bySource = { stationReport: 1, ownInstrument: 0.7, carDisplay: 1.2, forecast: 2 }[
    record.conditionsSource
  ];
  // A distant station sees other air: half a degree more for every 30 km.
  const farther = 0.5 * ((record.readings.stationDistance?.value ?? 0) / 30_000);
  return Math.hypot(bySource, farther);
}
