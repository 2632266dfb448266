import { ASSUMED_HUMIDITY, relativeHumidityFromDewPoint } from '@/lib/physics/air';
import { type PressureReport, stationPressure } from '@/lib/physics/atmosphere';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { priorU, READING_PRIORS } from '@/lib/physics/priors';
import { solveProfile } from '@/lib/physics/profile';
import { type BearingShare as RouteBearing, type WindReport, windOnLoop } from '@/lib/physics/wind';
import type { BearingShare } from '@/lib/run/loopShape';
import type { AdoptedTerms } from './adoptedTerms';
import { drivingResistance } from './drivingResistance';
import { rectangularU } from './readingUncertainty';
import { reportedUncertainty } from './reportedUncertainty';
import type { RunDistance } from './runDistance';
import type { RunSpeed } from './runSpeed';
import type { ReducedRecord, ReductionSnapshot, WeatherSnapshot } from './snapshot';
import { temperatureUC } from './temperatureUncertainty';
import { tyresOf } from './tyresOf';
import type { TraceCase } from './withTrace';

/** What was measured, after the readings were reconciled and the instruments' calibrations applied. */
export interface MeasuredQuantities {
  energy: { energyWh: number; uWh: number };
  distance: Pick<RunDistance, 'distanceM' | 'uM'>;
  speed: Pick<RunSpeed, 'cruiseSpeedMps' | 'uMps'>;
  /** From the run's own recording, in place of what the loop and the clock tell. */
  trace?: TraceCase | undefined;
}

/** A driver and a bag, where the form does not say: common practice, no source. */
const ASSUMED_LOAD_KG = 90;
const UNSTATED_LOAD_U_KG = 70;
const STATED_LOAD_U_KG = 50;

/** Mass as driven with its standard uncertainty in kg: kerb mass or the registered one, and the load. */
export function drivenMass(emptyKg: number, loadKg: number | undefined): { valueKg: number; uKg: number } {
  return {
    valueKg: emptyKg + (loadKg ?? ASSUMED_LOAD_KG),
    uKg: loadKg === undefined ? UNSTATED_LOAD_U_KG : STATED_LOAD_U_KG,
  };
}

const SLOW_DOWNS = 2;

/**
 * Lays a record and what is known of its car and loop out as the engine's case.
 *
 * Scopes follow what runs share (method A6): energy, duration and speed are read anew in each run; weather and auxiliary
 * power are the session's, the latter in part the car's; length and net climb are the loop's, so they are the same
 * number in every run of a car on that loop — the scope called `car`. How much is driven off cruise is the run's.
 */
export function normalisationCase(
  snapshot: ReductionSnapshot,
  learned: AdoptedTerms | undefined,
  { energy, distance, speed, trace }: MeasuredQuantities,
): NormalisationCase {
  const { record, car, model, loop, weather } = snapshot;
  const { readings } = record;
  const reported = reportedUncertainty(record, weather);
  const temperatureC = readings.airTemperature?.value ?? Number.NaN;
  const pressure = stationPressure(pressureReport(record, loop.altitudeM, temperatureC));
  const humidity = humidityOf(record, temperatureC, reported.relativeHumidity);
  const wind = windOnLoop(
    windReport(record, weather),
    routeBearings(trace?.bearings ?? loop.bearings, loop.lengthM),
  );
  const netClimb = trace?.netClimb ?? {
    valueM: loop.netClimbM,
    uM: priorU(READING_PRIORS.netClimbM, loop.netClimbM),
  };
  const mass = drivenMass(car.registeredMassKg ?? model.kerbMassKg, readings.loadMass?.value);
  const driving = trace === undefined ? loop.driving : null;
  const resistance = drivingResistance(snapshot, learned, mass.valueKg);
  const correlations = [
    ...(resistance.correlations ?? []),
    ...(wind.correlation === 0
      ? []
      : [{ inputs: ['alongWindMps', 'crossWindMps'] as const, coefficient: wind.correlation }]),
  ];
  const stops =
    trace === undefined && driving === null
      ? slowDowns(record, loop.offCruiseShare, distance.distanceM, speed.cruiseSpeedMps)
      : undefined;
  return {
    vehicle: {
      massKg: mass.valueKg,
      bodyClass: model.bodyClass,
      tyreKind: tyresOf(snapshot),
      ...resistance.vehicle,
    },
    run: {
      distanceM: distance.distanceM,
      energyWh: energy.energyWh,
      durationS: readings.tripDuration?.value ?? Number.NaN,
      cruiseSpeedMps: speed.cruiseSpeedMps,
      offCruiseShare: loop.offCruiseShare,
      airTemperatureC: temperatureC,
      pressurePa: pressure.pressurePa,
      relativeHumidity: humidity.value,
      windHoldsItsUncertainty: true,
      alongWindMps: wind.alongWindMps,
      crossWindMps: wind.crossWindMps,
      meanHeadwindMps: wind.meanHeadwindMps,
      netClimbM: netClimb.valueM,
      climate: record.climate,
      hasHeatPump: model.hasHeatPump,
      ...(stops === undefined ? {} : { stops: [stops] }),
      ...(driving === null
        ? {}
        : {
            meanSquareRatio: driving.meanSquareRatio.value,
            timeRatio: driving.timeRatio,
            stops: [...driving.brakingFalls],
          }),
      ...(trace === undefined
        ? {}
        : { meanSquareSpeedM2S2: trace.meanSquareSpeedM2S2, stops: [...trace.slowDowns] }),
      ...(readings.auxiliaryPower === undefined ? {} : { auxiliaryPowerW: readings.auxiliaryPower.value }),
      conditions: { precipitation: record.precipitation, roadSurface: record.road, traffic: record.traffic },
    },
    reference: { cruiseSpeedMps: snapshot.cruiseClass.speedMps },
    uncertainty: {
      energyWh: { u: energy.uWh },
      distanceM: { u: distance.uM, scope: 'car' },
      durationS: { u: rectangularU(readings.tripDuration), distribution: 'rectangular' },
      // a calibration's own part is the car's, but the larger part is the digit read in this run
      cruiseSpeedMps: { u: speed.uMps },
      netClimbM: { u: netClimb.uM, scope: trace?.netClimb ? 'run' : 'car' },
      ...(trace === undefined
        ? {}
        : {
            meanSquareSpeedM2S2: {
              u: priorU(READING_PRIORS.meanSquareSpeedM2S2, trace.meanSquareSpeedM2S2),
              scope: 'run',
            },
          }),
      offCruiseShare: { u: priorU(READING_PRIORS.offCruiseShare, loop.offCruiseShare), scope: 'run' },
      ...(driving === null ? {} : { meanSquareRatio: { u: driving.meanSquareRatio.u, scope: 'run' } }),
      airTemperatureC: { u: temperatureUC(record, weather), scope: 'session' },
      pressurePa: {
        u: Math.hypot(pressure.uPa, reported.altimeterPa ?? 0),
        scope: 'session',
      },
      relativeHumidity: { u: humidity.u, scope: 'session' },
      alongWindMps: { u: wind.uAlongMps, scope: 'session' },
      crossWindMps: { u: wind.uCrossMps, scope: 'session' },
      // a data sheet's mass is one number for the model; a registered one is the car's own
      massKg: {
        u: mass.uKg,
        scope: car.registeredMassKg === null ? 'model' : 'car',
      },
      ...resistance.uncertainty,
    },
    ...(correlations.length === 0
      ? {}
      : {
          correlations: correlations.map(({ inputs: [a, b], coefficient }) => ({
            inputs: [a, b],
            coefficient,
          })),
        }),
  };
}

/**
 * An out-and-back is slowed down from and sped up to twice: at its turnaround and at its ends. How far follows from the
 * loop's off-cruise share and the duration; without an off-cruise part there is nothing to recover from.
 */
function slowDowns(record: ReducedRecord, offCruiseShare: number, distanceM: number, cruiseSpeedMps: number) {
  const durationS = record.readings.tripDuration?.value ?? Number.NaN;
  const profile = solveProfile({ distanceM, durationS, cruiseSpeedMps, offCruiseShare });
  if (profile.judgement.source !== 'share' || !(profile.offCruiseSpeedMps < cruiseSpeedMps)) return undefined;
  return { fromMps: cruiseSpeedMps, toMps: profile.offCruiseSpeedMps, count: SLOW_DOWNS };
}

/** The report as the physics takes it: without a direction the wind is taken as coming from everywhere alike. */
export function windReport(record: ReducedRecord, weather: WeatherSnapshot | null): WindReport {
  const { windSpeed, windFrom, windGust } = record.readings;
  const uSpeedMps = reportedUncertainty(record, weather).windSpeedMps;
  return {
    speedMps: windSpeed?.value ?? 0,
    fromDeg: windFrom?.value ?? null,
    isDirectionUnknown: record.windDirectionKnown === 'no',
    gustMps: windGust?.value,
    ...(uSpeedMps === undefined ? {} : { uSpeedMps }),
  };
}

export function routeBearings(bearings: readonly BearingShare[], lengthM: number): RouteBearing[] {
  return bearings.map(({ bearingDeg, share }) => ({ bearingDeg, lengthM: share * lengthM }));
}

function pressureReport(record: ReducedRecord, altitudeM: number, temperatureC: number): PressureReport {
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

function humidityOf(
  record: ReducedRecord,
  temperatureC: number,
  reportedU: number | undefined,
): { value: number; u: number } {
  const { relativeHumidity, dewPoint } = record.readings;
  const u = reportedU ?? 0.05;
  if (relativeHumidity !== undefined) return { value: Math.min(1, relativeHumidity.value), u };
  if (dewPoint !== undefined) {
    return { value: Math.min(1, relativeHumidityFromDewPoint(temperatureC, dewPoint.value)), u };
  }
  return ASSUMED_HUMIDITY;
}
