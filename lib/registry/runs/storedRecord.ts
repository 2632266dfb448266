import type { RunRecord } from '@/lib/run/runRecord';
import type { Prisma } from '@/prisma/generated/client';
import { reportedUncertainty } from '../weather/reportedUncertainty';

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

export function conditionsRow(record: RunRecord): Prisma.ConditionsUncheckedCreateWithoutRevisionInput {
  const { readings } = record;
  return {
    source: record.conditionsSource,
    airTemperatureC: readings.airTemperature?.value ?? Number.NaN,
    airTemperatureUC: temperatureUC(record),
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

/**
 * Standard uncertainty of the air temperature over the loop by where it comes from: a station nearby, an instrument at
 * the loop, the car's own sensor warmed by the road, or a forecast. Common practice, no source. Where the station's
 * reports stand in the record, they tell it themselves.
 */
export function temperatureUC(record: RunRecord): number {
  const { temperatureC: byReports } = reportedUncertainty(record);
  if (byReports !== undefined) return byReports;
  const bySource = { stationReport: 1, ownInstrument: 0.7, carDisplay: 1.2, forecast: 2 }[
    record.conditionsSource
  ];
  // A distant station sees other air: half a degree more for every 30 km.
  const farther = 0.5 * ((record.readings.stationDistance?.value ?? 0) / 30_000);
  return Math.hypot(bySource, farther);
}
