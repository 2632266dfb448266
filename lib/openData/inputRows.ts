import { conditionsRow, readingRows } from '@/lib/reduction/revisionRows';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import { readSnapshot, type SnapshotReading } from '@/lib/reduction/stored';
import type { RunRecord } from '@/lib/run/runRecord';
import { CANONICAL_UNITS, dimensionOf, type UnitCode } from '@/lib/units/unit';
import type { Row } from './column';

/** Inputs of a run taken apart into the rows of four tables, without what people wrote freely, and put together again. */

export function inputRow(run: number, snapshot: ReductionSnapshot, origin: string): Row {
  const { version, record, cruiseClass, car, model, setup, loop, calibrations, weather } = snapshot;
  const { readings: _readings, ...chosen } = record;
  const { ownValuesSource: _source, ...knownCar } = car;
  const { dragAreaSource: _words, ...knownModel } = model;
  const { name: _name, ...knownLoop } = loop;
  return {
    run,
    form_version: version,
    origin,
    record: chosen,
    cruise_class: cruiseClass,
    car: knownCar,
    model: knownModel,
    setup,
    loop: knownLoop,
    calibrations,
    weather,
  };
}

/** One a reading, in order of the quantities. */
export function readingsOf(run: number, { record }: Pick<ReductionSnapshot, 'record'>): Row[] {
  return readingRows(asRecord(record))
    .map(({ enteredText, enteredUnit, ...reading }) => ({
      run,
      ...reading,
      entered_text: enteredText,
      entered_unit: enteredUnit,
      unit: canonicalUnit(enteredUnit),
    }))
    .sort((a, b) => (a.quantity < b.quantity ? -1 : 1));
}

/** The unit that a reading entered in another one is kept in; 1 for shares, and for what is written in percent. */
function canonicalUnit(entered: UnitCode): string {
  const dimension = dimensionOf(entered);
  if (dimension === 'share') return '1';
  return CANONICAL_UNITS[dimension];
}

export function conditionsOf(
  run: number,
  { record, weather }: Pick<ReductionSnapshot, 'record' | 'weather'>,
): Row {
  const row = conditionsRow(asRecord(record), weather);
  return {
    run,
    source: row.source,
    air_temperature_c: row.airTemperatureC,
    air_temperature_u_c: row.airTemperatureUC,
    pressure_pa: row.pressurePa,
    pressure_kind: row.pressureKind,
    relative_humidity: row.relativeHumidity,
    dew_point_c: row.dewPointC,
    wind_speed_mps: row.windSpeedMps,
    wind_from_deg: row.windFromDeg,
    wind_gust_mps: row.windGustMps,
    station_distance_m: row.stationDistanceM,
    precipitation: row.precipitation,
    road: row.road,
    traffic: row.traffic,
    close_following: row.closeFollowing,
  };
}

/** What it lacks are the texts, which no number follows from. */
function asRecord(record: ReductionSnapshot['record']): RunRecord {
  return { ...record, notes: '', stationReport: undefined, inFront: undefined };
}

/** Undefined for a run without a recording of its own. */
export function recordingRow(
  run: number,
  { recording }: Pick<ReductionSnapshot, 'recording'>,
): Row | undefined {
  if (recording === null) return undefined;
  const { cruise } = recording;
  return {
    run,
    recording_id: recording.traceId,
    distance_m: recording.distanceM,
    length_scale: recording.lengthScale,
    gap_distance_m: recording.gapDistanceM,
    mean_square_speed_m2_s2: recording.meanSquareSpeedM2S2,
    duration_s: recording.durationS,
    cruise_mean_speed_mps: cruise?.meanSpeedMps ?? null,
    cruise_spread_mps: cruise?.spreadMps ?? null,
    cruise_duration_s: cruise?.durationS ?? null,
    cruise_within_band_share: cruise?.withinBandShare ?? null,
    cruise_off_share: cruise?.offCruiseShare ?? null,
    slow_downs: recording.slowDowns,
    sector_shares: recording.sectorShares,
    closure_distance_m: recording.closureDistanceM,
    net_climb_m: recording.netClimbM,
  };
}

/** The inputs that the rows of a run were taken from. */
export function snapshotOf(
  input: Row,
  readings: readonly Row[],
  recording: Row | undefined,
): SnapshotReading {
  return readSnapshot({
    version: input.form_version,
    record: {
      ...(input.record as object),
      readings: Object.fromEntries(readings.map((reading) => [reading.quantity, readingOf(reading)])),
    },
    cruiseClass: input.cruise_class,
    car: { ...(input.car as object), ownValuesSource: null },
    model: { ...(input.model as object), dragAreaSource: null },
    setup: input.setup,
    loop: { ...(input.loop as object), name: '' },
    calibrations: input.calibrations,
    weather: input.weather,
    recording: recording === undefined ? null : recordingOf(recording),
  });
}

function readingOf({ run: _run, unit: _unit, entered_text, entered_unit, ...reading }: Row): object {
  return { ...reading, enteredText: entered_text, enteredUnit: entered_unit };
}

function recordingOf(row: Row): object {
  return {
    traceId: row.recording_id,
    distanceM: row.distance_m,
    lengthScale: row.length_scale,
    gapDistanceM: row.gap_distance_m,
    meanSquareSpeedM2S2: row.mean_square_speed_m2_s2,
    slowDowns: row.slow_downs,
    durationS: row.duration_s,
    cruise:
      row.cruise_mean_speed_mps === null
        ? null
        : {
            meanSpeedMps: row.cruise_mean_speed_mps,
            spreadMps: row.cruise_spread_mps,
            durationS: row.cruise_duration_s,
            withinBandShare: row.cruise_within_band_share,
            offCruiseShare: row.cruise_off_share,
          },
    sectorShares: row.sector_shares,
    closureDistanceM: row.closure_distance_m,
    netClimbM: row.net_climb_m,
  };
}
