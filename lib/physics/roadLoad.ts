import { airDensityCipm } from './air';
import { STANDARD_GRAVITY } from './atmosphere';
import { brakingWork, type FlatFalls } from './braking';
import type { VectorModel } from './budget';
import { indexOfInput } from './inputs';
import { meanSquareFromRatio, meanSquareFromShare, type ProfileSource } from './meanSquare';

/**
 * Consumption at the battery from the road load (form of SAE J1263/J2263 and UN GTR No. 15), per distance:
 *
 *   e = [½ρ·CdA·(M2 + 2v⟨h⟩ + w² + (1+κ)c²) + (Crr·m·g + f1·M1)/(1 + K0(T−20)) + m·g·Δh/D + S]/η + P·t/D
 *
 * with M2 the distance-weighted mean squared speed, w and c the rms wind along and across the route at car height and
 * S what the brakes take and recuperation does not return ({@link brakingWork}). Forces in N, one N per distance is
 * 1/3.6 Wh/km. The functions below write the adjustment to reference conditions as one flat function, so that its
 * derivatives cost a few microseconds.
 */
export const JOULE_PER_METRE_PER_WH_PER_KM = 3.6;
export const ROLLING_REFERENCE_C = 20;

/** Outputs of the model in order; the steps stand in the order in which conditions are swapped. */
export const OUT = {
  measured: 0,
  auxiliary: 1,
  elevation: 2,
  stops: 3,
  wind: 4,
  density: 5,
  rollingTemperature: 6,
  speed: 7,
  normalised: 8,
  scale: 9,
} as const;
export const OUTPUT_COUNT = 10;

export interface ReferenceConditions {
  readonly cruiseSpeedMps: number;
  readonly airDensityKgM3: number;
  readonly airTemperatureC: number;
  readonly auxiliaryPowerW: number;
}

/** UN GTR No. 15: 20 °C and 100 kPa of dry air; auxiliary power is our own choice. */
export const STANDARD_REFERENCE: Omit<ReferenceConditions, 'cruiseSpeedMps'> = {
  airDensityKgM3: 1.189,
  airTemperatureC: 20,
  auxiliaryPowerW: 500,
};

export type DensitySource = 'density' | 'pressure';

/** Factor on rolling resistance at 20 °C to give it at t °C: 1/(1 + K0(t − 20)) (UN GTR No. 15, Annex 4, 4.5). */
export function rollingTemperatureFactor(temperatureC: number, perK: number): number {
  return 1 / (1 + perK * (temperatureC - ROLLING_REFERENCE_C));
}

const ENERGY = indexOfInput('energyWh');
const DISTANCE = indexOfInput('distanceM');
const DURATION = indexOfInput('durationS');
const CRUISE = indexOfInput('cruiseSpeedMps');
const MEAN_SQUARE = indexOfInput('meanSquareSpeedM2S2');
const SQUARE_RATIO = indexOfInput('meanSquareRatio');
const SHARE = indexOfInput('offCruiseShare');
const RATIO = indexOfInput('offCruiseSpeedRatio');
const TEMPERATURE = indexOfInput('airTemperatureC');
const DENSITY = indexOfInput('airDensityKgM3');
const PRESSURE = indexOfInput('pressurePa');
const HUMIDITY = indexOfInput('relativeHumidity');
const ALONG = indexOfInput('alongWindMps');
const CROSS = indexOfInput('crossWindMps');
const HEADWIND = indexOfInput('meanHeadwindMps');
const CLIMB = indexOfInput('netClimbM');
const AUXILIARY = indexOfInput('auxiliaryPowerW');
const AUXILIARY_HABIT = indexOfInput('auxiliaryHabitW');
const DECELERATION = indexOfInput('brakingDecelerationMps2');
const BRAKING_CAR = indexOfInput('brakingOfCarShare');
const BRAKING_RUN = indexOfInput('brakingOfRunShare');
const MASS = indexOfInput('massKg');
const DRAG_AREA = indexOfInput('dragAreaM2');
const ROLLING = indexOfInput('rollingCoefficient');
const LINEAR = indexOfInput('linearRollingNPerMps');
const EFFICIENCY = indexOfInput('drivetrainEfficiency');
const YAW = indexOfInput('yawDragPerRad2');
const ROLLING_PER_K = indexOfInput('rollingTemperaturePerK');
const RECUPERATION = indexOfInput('recuperationShare');
const DENSITY_EQUATION = indexOfInput('densityEquation');
const WAKE = indexOfInput('trafficWakeShare');
const SURFACE = indexOfInput('roadSurfaceShare');
const WARM_UP = indexOfInput('tyreWarmUpShare');
const BATTERY = indexOfInput('batteryTemperatureShare');
const BATTERY_COMMON = indexOfInput('batteryTemperatureCommonShare');
const SCALE_MODEL = indexOfInput('displayScaleOfModelShare');
const SCALE_CAR = indexOfInput('displayScaleOfCarShare');
const DRAG_OF_SETUP = indexOfInput('dragOfSetup');
const ROLLING_OF_SETUP = indexOfInput('rollingOfSetup');

/**
 * The adjustment of one run to reference conditions as a flat function of its inputs (order of INPUT_NAMES).
 *
 * The road load is scaled to the measurement, s = (e − aux − grade)/(aero + rolling + stops), then one condition after
 * the other is swapped for its reference; the steps sum to normalised − measured by construction. What is not corrected
 * (wake, surface, warm-up, battery temperature, the display's scale) is zero at the estimate and swapped for zero, so
 * it only widens.
 */
export function adjustmentModel(
  profile: ProfileSource,
  densitySource: DensitySource,
  reference: ReferenceConditions,
  falls: FlatFalls,
): VectorModel {
  // a perturbed input seldom is one of the air's three: keep the last density
  let lastTemperature = Number.NaN;
  let lastPressure = Number.NaN;
  let lastHumidity = Number.NaN;
  let lastDensity = Number.NaN;
  const referenceAuxiliary = reference.auxiliaryPowerW;
  const referenceSpeed = reference.cruiseSpeedMps;

  return (x, out) => {
    const distance = x[DISTANCE] as number;
    const duration = x[DURATION] as number;
    const cruise = x[CRUISE] as number;
    const temperature = x[TEMPERATURE] as number;
    let density = x[DENSITY] as number;
    if (densitySource === 'pressure') {
      const pressure = x[PRESSURE] as number;
      const humidity = x[HUMIDITY] as number;
      if (temperature !== lastTemperature || pressure !== lastPressure || humidity !== lastHumidity) {
        lastTemperature = temperature;
        lastPressure = pressure;
        lastHumidity = humidity;
        lastDensity = airDensityCipm(temperature, pressure, humidity);
      }
      density = lastDensity * (x[DENSITY_EQUATION] as number);
    }
    const meanSquare =
      profile === 'trace'
        ? (x[MEAN_SQUARE] as number)
        : profile === 'loop'
          ? (x[SQUARE_RATIO] as number) * cruise * cruise
          : profile === 'share'
            ? meanSquareFromShare(cruise, x[SHARE] as number, distance, duration)
            : profile === 'ratio'
              ? meanSquareFromRatio(cruise, x[RATIO] as number, distance, duration)
              : cruise * cruise;
    const meanSpeed = Math.sqrt(meanSquare);

    const mass = x[MASS] as number;
    const efficiency = x[EFFICIENCY] as number;
    // forces over efficiency, in Wh/km
    const perForce = 1 / (JOULE_PER_METRE_PER_WH_PER_KM * efficiency);
    const along = x[ALONG] as number;
    const cross = x[CROSS] as number;
    const windSquare =
      2 * meanSpeed * (x[HEADWIND] as number) + along * along + (1 + (x[YAW] as number)) * cross * cross;
    const dragArea = (x[DRAG_AREA] as number) * (x[DRAG_OF_SETUP] as number);
    const perDensity = 0.5 * dragArea * perForce;
    const wake = 1 + (x[WAKE] as number);
    const aero = perDensity * density * wake * (meanSquare + windSquare);
    const aeroCalm = perDensity * density * meanSquare;
    const aeroReferenceAir = perDensity * reference.airDensityKgM3 * meanSquare;
    const aeroReference = perDensity * reference.airDensityKgM3 * referenceSpeed * referenceSpeed;

    const perK = x[ROLLING_PER_K] as number;
    const rollingCoefficient = (x[ROLLING] as number) * (x[ROLLING_OF_SETUP] as number);
    const constantRolling = rollingCoefficient * mass * STANDARD_GRAVITY;
    const linear = x[LINEAR] as number;
    const rolling20 = (constantRolling + linear * meanSpeed) * perForce;
    const referenceFactor = rollingTemperatureFactor(reference.airTemperatureC, perK);
    const temperatureFactor = rollingTemperatureFactor(temperature, perK);
    const rolling = rolling20 * temperatureFactor * (1 + (x[SURFACE] as number) + (x[WARM_UP] as number));
    const rollingReferenceAir = rolling20 * referenceFactor;
    const rollingReference = (constantRolling + linear * referenceSpeed) * perForce * referenceFactor;

    const grade = ((mass * STANDARD_GRAVITY * (x[CLIMB] as number)) / distance) * perForce;
    const braked = brakingWork(falls, {
      massKg: mass,
      cruiseMps: cruise,
      dragPerSquareN: 0.5 * density * dragArea,
      constantN:
        constantRolling * temperatureFactor + (mass * STANDARD_GRAVITY * (x[CLIMB] as number)) / distance,
      linearNPerMps: linear * temperatureFactor,
      decelerationMps2: x[DECELERATION] as number,
    });
    const stops =
      (braked / distance) *
      (1 + (x[BRAKING_CAR] as number) + (x[BRAKING_RUN] as number)) *
      (1 - efficiency * (x[RECUPERATION] as number)) *
      perForce;

    const slowness = duration / (JOULE_PER_METRE_PER_WH_PER_KM * distance); // Wh/km per W
    const auxiliary = ((x[AUXILIARY] as number) + (x[AUXILIARY_HABIT] as number)) * slowness;
    const auxiliarySwapped = referenceAuxiliary * slowness;
    const auxiliaryReference = referenceAuxiliary / (JOULE_PER_METRE_PER_WH_PER_KM * referenceSpeed);

    const measured = (1000 * (x[ENERGY] as number)) / distance;
    const misread = (x[SCALE_MODEL] as number) + (x[SCALE_CAR] as number);
    const atBattery = measured / (1 + (x[BATTERY] as number) + (x[BATTERY_COMMON] as number) + misread);
    const scale = (atBattery - auxiliary - grade) / (aero + rolling + stops);

    out[OUT.measured] = measured;
    out[OUT.auxiliary] = auxiliarySwapped - auxiliary;
    out[OUT.elevation] = -grade;
    out[OUT.stops] = -scale * stops;
    out[OUT.wind] = scale * (aeroCalm - aero);
    out[OUT.density] = scale * (aeroReferenceAir - aeroCalm);
    out[OUT.rollingTemperature] = scale * (rollingReferenceAir - rolling);
    out[OUT.speed] =
      scale * (aeroReference - aeroReferenceAir + rollingReference - rollingReferenceAir) +
      auxiliaryReference -
      auxiliarySwapped;
    out[OUT.normalised] = scale * (aeroReference + rollingReference) + auxiliaryReference;
    out[OUT.scale] = scale;
  };
}
