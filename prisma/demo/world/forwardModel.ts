import type { BearingShare, SpeedPiece, TrueRoadLoad, WindErrors } from './types';

/**
 * The demo world's own physics, on purpose apart from `lib/physics`, so that tests can hold the engine against it: air
 * and wind of method A2 and A4 written out a second time, and energy summed from the force at the wheel.
 */
export const GRAVITY_MPS2 = 9.80665;
/** Rotating parts count as 3 % more mass (method A3). */
export const EQUIVALENT_MASS_FACTOR = 1.03;

/** What is one number for all cars of a world. */
export interface Nature {
  /** Yaw sensitivity of drag, rad⁻². */
  yawDragPerRad2: number;
  /** Fall of rolling resistance with air temperature, 1/K. */
  rollingTemperaturePerK: number;
  /** Share of braking work that reaches the battery. */
  recuperation: number;
}

/** The centres of method A3's priors. */
export const CENTRAL_NATURE: Nature = {
  yawDragPerRad2: 3,
  rollingTemperaturePerK: 8.6e-3,
  recuperation: 0.6,
};

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

/** The wind of a leg at the height of the car, with the day's departures; the rms over the whole route sets their size. */
export function windOfLeg(
  leg: readonly BearingShare[],
  route: readonly BearingShare[],
  station: { windMps: number; windFromDeg: number; gustMps: number | undefined },
  errors: WindErrors,
): RouteWind {
  const atCar = errors.carHeightShare * station.windMps;
  const from = station.windFromDeg + errors.directionDeg;
  const whole = windAlongRoute(route, atCar, from, 0);
  const own = windAlongRoute(leg, atCar, from, 0);
  const { gustMps = station.windMps } = station;
  const gustSquare = (((gustMps - station.windMps) / 3) * errors.carHeightShare) ** 2;
  // each component keeps its shape along the route and is scaled to what truly blew
  const scaled = (square: number, share: number, offMps: number) => {
    const rms = Math.sqrt(square);
    const truly = rms * (1 + share) + CAR_HEIGHT * offMps;
    return { square: truly * truly, factor: rms > 0 ? truly / rms : 0 };
  };
  const along = scaled(whole.alongSquareM2S2, errors.alongShare, errors.alongMps);
  const across = scaled(whole.acrossSquareM2S2, errors.acrossShare, errors.acrossMps);
  return {
    meanHeadwindMps: own.meanHeadwindMps * along.factor,
    alongSquareM2S2: along.square + gustSquare,
    acrossSquareM2S2: across.square + gustSquare,
  };
}

/** A 10 m wind at the height of a car (method A4, prior). */
const CAR_HEIGHT = 0.66;

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

export const steadily = (mps: number, lengthM: number): SpeedPiece[] => [
  { fromMps: mps, toMps: mps, lengthM },
];

/** One drive over a route, or over one leg of it. */
export interface Drive {
  roadLoad: TrueRoadLoad;
  nature: Nature;
  pieces: readonly SpeedPiece[];
  /** At halts on the way. */
  standingS: number;
  airDensityKgM3: number;
  airTemperatureC: number;
  wind: RouteWind;
  netClimbM: number;
  auxiliaryPowerW: number;
  /** What traffic and road add, as shares of drag and of rolling. */
  wakeShare?: number;
  surfaceShare?: number;
}

export const lengthM = (pieces: readonly SpeedPiece[]): number =>
  pieces.reduce((sum, piece) => sum + piece.lengthM, 0);

export function durationS({ pieces, standingS }: Pick<Drive, 'pieces' | 'standingS'>): number {
  return pieces.reduce((sum, piece) => sum + (2 * piece.lengthM) / (piece.fromMps + piece.toMps), standingS);
}

/**
 * Energy drawn from the battery, Wh: the force at the wheel piece by piece. Where it drives, the drivetrain takes its
 * share; where it brakes, recuperation returns one. Method A3 puts the same into means and a braking term.
 */
export function energyWh(drive: Drive): number {
  const { roadLoad, nature, wind, pieces } = drive;
  const weightN = roadLoad.massKg * GRAVITY_MPS2;
  const drag = 0.5 * drive.airDensityKgM3 * roadLoad.dragAreaM2 * (1 + (drive.wakeShare ?? 0));
  const rollingN =
    (roadLoad.rollingCoefficient * weightN * (1 + (drive.surfaceShare ?? 0))) /
    (1 + nature.rollingTemperaturePerK * (drive.airTemperatureC - REFERENCE.temperatureC));
  const constantN = rollingN + (weightN * drive.netClimbM) / lengthM(pieces);
  const gustySquare = wind.alongSquareM2S2 + (1 + nature.yawDragPerRad2) * wind.acrossSquareM2S2;
  let joules = drive.auxiliaryPowerW * durationS(drive);
  for (const { fromMps, toMps, lengthM: over } of pieces) {
    if (over === 0) continue;
    const inertiaN = (EQUIVALENT_MASS_FACTOR * roadLoad.massKg * (toMps ** 2 - fromMps ** 2)) / (2 * over);
    const windSquare = (fromMps + toMps) * wind.meanHeadwindMps + gustySquare;
    const [first, last] = [fromMps, toMps].map((v) => drag * (v * v + windSquare) + constantN + inertiaN) as [
      number,
      number,
    ];
    const { driven, braked } = areas(first, last, over);
    joules += driven / roadLoad.drivetrainEfficiency - nature.recuperation * braked;
  }
  return joules / 3600;
}

/** Work above and below zero of a force that runs straight from one value to the other. */
function areas(first: number, last: number, over: number): { driven: number; braked: number } {
  const whole = ((first + last) / 2) * over;
  if (first >= 0 && last >= 0) return { driven: whole, braked: 0 };
  if (first <= 0 && last <= 0) return { driven: 0, braked: -whole };
  const positive = Math.max(first, last);
  const driven = (0.5 * positive * positive * over) / Math.abs(first - last);
  return { driven, braked: driven - whole };
}

export function consumptionWhPerKm(drive: Drive): number {
  return (1000 * energyWh(drive)) / lengthM(drive.pieces);
}

/** Method A5's reference conditions: class speed held throughout, 20 °C, 1.189 kg/m³, calm, level, 500 W. */
export function referenceWhPerKm(roadLoad: TrueRoadLoad, classSpeedMps: number): number {
  return consumptionWhPerKm({
    roadLoad,
    nature: CENTRAL_NATURE,
    pieces: steadily(classSpeedMps, 1000),
    standingS: 0,
    airDensityKgM3: REFERENCE.airDensityKgM3,
    airTemperatureC: REFERENCE.temperatureC,
    wind: { meanHeadwindMps: 0, alongSquareM2S2: 0, acrossSquareM2S2: 0 },
    netClimbM: 0,
    auxiliaryPowerW: REFERENCE.auxiliaryPowerW,
  });
}
