import type { CruiseClass } from '@/lib/domain/cruiseClass';
import type { BearingShare } from '@/lib/domain/loopShape';
import type { QuantityReading, RunRecord } from '@/lib/domain/runRecord';
import { relativeHumidityFromDewPoint } from '@/lib/physics/air';
import { type PressureReport, stationPressure } from '@/lib/physics/atmosphere';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { type BearingShare as RouteBearing, type WindReport, windOnLoop } from '@/lib/physics/wind';
import { temperatureUC } from './storedRecord';

export interface CaseSubjects {
  car: {
    registeredMassKg: number | undefined;
    dragAreaM2: number | undefined;
    rollingCoefficient: number | undefined;
  };
  model: {
    bodyClass: 'saloon' | 'hatch' | 'suv' | 'van' | 'pickup';
    kerbMassKg: number;
    dragAreaM2: number | undefined;
    hasHeatPump: boolean;
  };
  tyreKind: 'road' | 'allTerrain';
  loop: {
    lengthM: number;
    lengthUncertaintyM: number;
    altitudeM: number;
    netClimbM: number;
    offCruiseShare: number;
    bearings: readonly BearingShare[];
  };
  cruiseClass: CruiseClass;
}

/** The run's energy after its readings were reconciled. */
export interface ReconciledEnergy {
  energyWh: number;
  uWh: number;
}

/** A driver and a bag, where the form does not say: common practice, no source. */
const ASSUMED_LOAD_KG = 90;
const UNSTATED_LOAD_U_KG = 70;
/** Nothing said about humidity: the middle, with a rectangular half-width of 0.4. */
const ASSUMED_HUMIDITY = 0.6;

/** Lays a record and what is known of its car and loop out as the engine's case. */
export function normalisationCase(
  record: RunRecord,
  subjects: CaseSubjects,
  energy: ReconciledEnergy,
): NormalisationCase {
  const { readings } = record;
  const { car, model, loop } = subjects;
  const temperatureC = readings.airTemperature?.value ?? Number.NaN;
  const pressure = stationPressure(pressureReport(record, loop.altitudeM, temperatureC));
  const humidity = humidityOf(record, temperatureC);
  const wind = windOnLoop(windReport(record), routeBearings(loop.bearings, loop.lengthM));
  const dragAreaM2 = car.dragAreaM2 ?? model.dragAreaM2;
  return {
    vehicle: {
      massKg: (car.registeredMassKg ?? model.kerbMassKg) + (readings.loadMass?.value ?? ASSUMED_LOAD_KG),
      bodyClass: model.bodyClass,
      tyreKind: subjects.tyreKind,
      ...(dragAreaM2 === undefined ? {} : { dragAreaM2 }),
      ...(car.rollingCoefficient === undefined ? {} : { rollingCoefficient: car.rollingCoefficient }),
    },
    run: {
      distanceM: loop.lengthM,
      energyWh: energy.energyWh,
      durationS: readings.tripDuration?.value ?? Number.NaN,
      cruiseSpeedMps: readings.trueSpeed?.value ?? Number.NaN,
      offCruiseShare: loop.offCruiseShare,
      airTemperatureC: temperatureC,
      pressurePa: pressure.pressurePa,
      relativeHumidity: humidity.value,
      alongWindMps: wind.alongWindMps,
      crossWindMps: wind.crossWindMps,
      meanHeadwindMps: wind.meanHeadwindMps,
      netClimbM: loop.netClimbM,
      climate: record.climate,
      hasHeatPump: model.hasHeatPump,
      ...(readings.auxiliaryPower === undefined ? {} : { auxiliaryPowerW: readings.auxiliaryPower.value }),
      conditions: { precipitation: record.precipitation, roadSurface: record.road, traffic: record.traffic },
    },
    reference: { cruiseSpeedMps: subjects.cruiseClass.speedMps },
    uncertainty: {
      energyWh: { u: energy.uWh },
      distanceM: { u: Math.max(loop.lengthUncertaintyM, 1) },
      durationS: { u: rectangularU(readings.tripDuration) },
      cruiseSpeedMps: { u: cruiseSpeedU(record) },
      airTemperatureC: { u: temperatureUC(record) },
      pressurePa: { u: pressure.uPa },
      relativeHumidity: { u: humidity.u },
      alongWindMps: { u: wind.uAlongMps },
      crossWindMps: { u: wind.uCrossMps },
      massKg: { u: readings.loadMass === undefined ? UNSTATED_LOAD_U_KG : 50 },
    },
  };
}

/** The report as the physics takes it: without a direction the wind is taken as coming from everywhere alike. */
export function windReport(record: RunRecord): WindReport {
  const { windSpeed, windFrom, windGust } = record.readings;
  return { speedMps: windSpeed?.value ?? 0, fromDeg: windFrom?.value ?? null, gustMps: windGust?.value };
}

export function routeBearings(bearings: readonly BearingShare[], lengthM: number): RouteBearing[] {
  return bearings.map(({ bearingDeg, share }) => ({ bearingDeg, lengthM: share * lengthM }));
}

function pressureReport(record: RunRecord, altitudeM: number, temperatureC: number): PressureReport {
  const pressurePa = record.readings.airPressure?.value;
  if (pressurePa === undefined || record.pressureKind === 'altitudeOnly')
    return { kind: 'altitude', altitudeM };
  switch (record.pressureKind) {
    case 'station':
      return { kind: 'station', pressurePa };
    case 'qnh':
      return { kind: 'qnh', pressurePa, altitudeM };
    case 'qff':
      return { kind: 'qff', pressurePa, altitudeM, temperatureC };
  }
}

function humidityOf(record: RunRecord, temperatureC: number): { value: number; u: number } {
  const { relativeHumidity, dewPoint } = record.readings;
  if (relativeHumidity !== undefined) return { value: Math.min(1, relativeHumidity.value), u: 0.05 };
  if (dewPoint !== undefined) {
    return { value: Math.min(1, relativeHumidityFromDewPoint(temperatureC, dewPoint.value)), u: 0.05 };
  }
  return { value: ASSUMED_HUMIDITY, u: 0.4 / Math.sqrt(3) };
}

/** Of the rounding interval of a display, as a rectangular distribution (JCGM 100:2008, 4.3.7). */
export function rectangularU(reading: QuantityReading | undefined): number {
  return reading === undefined ? 0 : (reading.high - reading.low) / Math.sqrt(12);
}

/**
 * Satellite positioning gives a mean speed to a few tenths of a km/h; a calibrated speedometer to about one; a speed
 * that nobody verified to about three. Common practice, no source.
 */
function cruiseSpeedU(record: RunRecord): number {
  const byMethodMps =
    { positioning: 0.3, calibratedSpeedometer: 1, notVerified: 3 }[record.trueSpeedMethod] / 3.6;
  return Math.hypot(byMethodMps, rectangularU(record.readings.trueSpeed));
}
