import type { BearingShare, TrueRoadLoad } from './types';

/**
 * The demo world's own physics: method A2 to A4 written out a second time, on purpose apart from `lib/physics`,
 * so that tests can hold the engine against it.
 */
export const GRAVITY_MPS2 = 9.80665;
/** Yaw sensitivity of drag, rad⁻² (method A3, prior). */
export const YAW_DRAG_PER_RAD2 = 3;
/** Fall of rolling resistance with air temperature, 1/K (UN GTR No. 15). */
export const ROLLING_TEMPERATURE_PER_K = 8.6e-3;
/** Rotating parts count as 3 % more mass (method A3). */
export const EQUIVALENT_MASS_FACTOR = 1.03;
export const RECUPERATION = 0.6;

export const REFERENCE = {
  temperatureC: 20,
  airDensityKgM3: 1.189,
  auxiliaryPowerW: 500,
} as const;

/** Density of moist air, kg/m³, as a mixture of ideal gases (method A2, WMO Guide No. 8 for the vapour pressure). */
export function moistAirDensityKgM3(
  temperatureC: number,
  pressurePa: number,
  relativeHumidity: number,
): number {
  const vapourPa = relativeHumidity * saturationPressurePa(temperatureC);
  const kelvin = temperatureC + 273.15;
  return (pressurePa - vapourPa) / (287.05287 * kelvin) + vapourPa / (461.495 * kelvin);
}

/** Magnus form over water (WMO Guide No. 8), Pa. */
export function saturationPressurePa(temperatureC: number): number {
  return 611.2 * Math.exp((17.62 * temperatureC) / (243.12 + temperatureC));
}

const ALTIMETER_EXPONENT = 0.1902631;

/** The altimeter setting that belongs to a station pressure at a height: the inverse of method A2's relation, Pa. */
export function altimeterSettingPa(stationPa: number, altitudeM: number): number {
  const n = ALTIMETER_EXPONENT;
  return (stationPa ** n + ((101325 ** n * 0.0065) / 288.15) * altitudeM) ** (1 / n);
}

/** Station pressure that belongs to an altimeter setting at a height (method A2), Pa. */
export function stationPressurePa(altimeterPa: number, altitudeM: number): number {
  const n = ALTIMETER_EXPONENT;
  return (altimeterPa ** n - ((101325 ** n * 0.0065) / 288.15) * altitudeM) ** (1 / n);
}

/** Wind as a route meets it: mean headwind and the two mean squares (method A4). */
export interface RouteWind {
  meanHeadwindMps: number;
  alongSquareM2S2: number;
  acrossSquareM2S2: number;
}

export function windAlongRoute(
  bearings: readonly BearingShare[],
  windMps: number,
  windFromDeg: number,
  gustSquareM2S2: number,
): RouteWind {
  let [mean, along, across] = [0, 0, 0];
  for (const { bearingDeg, share } of bearings) {
    const angle = ((windFromDeg - bearingDeg) * Math.PI) / 180;
    const head = windMps * Math.cos(angle);
    const cross = windMps * Math.sin(angle);
    mean += share * head;
    along += share * head * head;
    across += share * cross * cross;
  }
  return {
    meanHeadwindMps: mean,
    alongSquareM2S2: along + gustSquareM2S2,
    acrossSquareM2S2: across + gustSquareM2S2,
  };
}

/** One drive over a route, or over one leg of it. */
export interface Drive {
  roadLoad: TrueRoadLoad;
  distanceM: number;
  cruiseSpeedMps: number;
  /** Share of the distance at `offCruiseSpeedMps` instead: ramps, turnaround. */
  offCruiseShare: number;
  offCruiseSpeedMps: number;
  /** Times that the car speeds up from off-cruise to cruise speed and slows down again. */
  rampCount: number;
  airDensityKgM3: number;
  airTemperatureC: number;
  wind: RouteWind;
  netClimbM: number;
  auxiliaryPowerW: number;
}

export function durationS(drive: Drive): number {
  const { distanceM, offCruiseShare } = drive;
  return distanceM * ((1 - offCruiseShare) / drive.cruiseSpeedMps + offCruiseShare / drive.offCruiseSpeedMps);
}

/** Method A3, Wh/km at the battery. */
export function consumptionWhPerKm(drive: Drive): number {
  const { roadLoad, wind, distanceM, offCruiseShare } = drive;
  const [fast, slow] = [drive.cruiseSpeedMps, drive.offCruiseSpeedMps];
  const meanSquare = (1 - offCruiseShare) * fast ** 2 + offCruiseShare * slow ** 2;
  const meanSpeed = (1 - offCruiseShare) * fast + offCruiseShare * slow;
  const airSquare =
    meanSquare +
    2 * meanSpeed * wind.meanHeadwindMps +
    wind.alongSquareM2S2 +
    (1 + YAW_DRAG_PER_RAD2) * wind.acrossSquareM2S2;
  const aeroN = 0.5 * drive.airDensityKgM3 * roadLoad.dragAreaM2 * airSquare;
  const weightN = roadLoad.massKg * GRAVITY_MPS2;
  const rollingN =
    (roadLoad.rollingCoefficient * weightN) /
    (1 + ROLLING_TEMPERATURE_PER_K * (drive.airTemperatureC - REFERENCE.temperatureC));
  const gradeN = (weightN * drive.netClimbM) / distanceM;
  const kinetic = 0.5 * EQUIVALENT_MASS_FACTOR * roadLoad.massKg * (fast ** 2 - slow ** 2);
  const stopsN = (drive.rampCount * kinetic * (1 - roadLoad.drivetrainEfficiency * RECUPERATION)) / distanceM;
  const wheelN = aeroN + rollingN + gradeN + stopsN;
  const auxiliaryN = (drive.auxiliaryPowerW * durationS(drive)) / distanceM;
  return (wheelN / roadLoad.drivetrainEfficiency + auxiliaryN) / 3.6;
}

/** Method A5's reference conditions: class speed held throughout, 20 °C, 1.189 kg/m³, calm, level, 500 W. */
export function referenceWhPerKm(roadLoad: TrueRoadLoad, classSpeedMps: number): number {
  return consumptionWhPerKm({
    roadLoad,
    distanceM: 1000,
    cruiseSpeedMps: classSpeedMps,
    offCruiseShare: 0,
    offCruiseSpeedMps: classSpeedMps,
    rampCount: 0,
    airDensityKgM3: REFERENCE.airDensityKgM3,
    airTemperatureC: REFERENCE.temperatureC,
    wind: { meanHeadwindMps: 0, alongSquareM2S2: 0, acrossSquareM2S2: 0 },
    netClimbM: 0,
    auxiliaryPowerW: REFERENCE.auxiliaryPowerW,
  });
}
