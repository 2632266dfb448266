import type { Scope } from './budget';

/**
 * The inputs of the normalisation model, in the order of its flat vector, with the words a budget shows and the scope
 * in which one input is the same random variable (JCGM 100, 5.2; scope decides what cancels in a difference).
 */
export const INPUT_NAMES = [
  'energyWh',
  'distanceM',
  'durationS',
  'cruiseSpeedMps',
  'meanSquareSpeedM2S2',
  'meanSquareRatio',
  'offCruiseShare',
  'offCruiseSpeedRatio',
  'airTemperatureC',
  'airDensityKgM3',
  'pressurePa',
  'relativeHumidity',
  'alongWindMps',
  'crossWindMps',
  'meanHeadwindMps',
  'netClimbM',
  'auxiliaryPowerW',
  'auxiliaryHabitW',
  'brakingDecelerationMps2',
  'brakingOfCarShare',
  'brakingOfRunShare',
  'massKg',
  'dragAreaM2',
  'rollingCoefficient',
  'linearRollingNPerMps',
  'drivetrainEfficiency',
  'yawDragPerRad2',
  'rollingTemperaturePerK',
  'recuperationShare',
  'densityEquation',
  'trafficWakeShare',
  'roadSurfaceShare',
  'tyreWarmUpShare',
  'batteryTemperatureShare',
  'batteryTemperatureCommonShare',
  'displayScaleOfModelShare',
  'displayScaleOfCarShare',
  'dragOfSetup',
  'rollingOfSetup',
] as const;

export type InputName = (typeof INPUT_NAMES)[number];

/** Inputs of earlier versions of the method: read in their cases, and left unused. */
export const RETIRED_INPUT_NAMES = ['squaredSpeedDropM2S2'] as const;
export type RetiredInputName = (typeof RETIRED_INPUT_NAMES)[number];

export const INPUT_COUNT = INPUT_NAMES.length;

export interface InputMeaning {
  readonly label: string;
  /** Unit as printed beside u. */
  readonly unit: string;
  readonly scope: Scope;
}

export const INPUT_MEANINGS: Readonly<Record<InputName, InputMeaning>> = {
  energyWh: { label: 'Energy drawn', unit: 'Wh', scope: 'run' },
  distanceM: { label: 'Distance of the loop', unit: 'm', scope: 'car' },
  durationS: { label: 'Duration', unit: 's', scope: 'run' },
  cruiseSpeedMps: { label: 'Cruise speed', unit: 'm/s', scope: 'run' },
  meanSquareSpeedM2S2: { label: 'Mean squared speed from the trace', unit: 'm²/s²', scope: 'run' },
  meanSquareRatio: { label: 'Mean squared speed of the loop, of cruise', unit: '', scope: 'run' },
  offCruiseShare: { label: 'Share of the distance off cruise', unit: '', scope: 'run' },
  offCruiseSpeedRatio: { label: 'Assumed off-cruise speed, of cruise', unit: '', scope: 'run' },
  airTemperatureC: { label: 'Air temperature', unit: '°C', scope: 'session' },
  airDensityKgM3: { label: 'Air density', unit: 'kg/m³', scope: 'session' },
  pressurePa: { label: 'Station pressure', unit: 'Pa', scope: 'session' },
  relativeHumidity: { label: 'Relative humidity', unit: '', scope: 'session' },
  alongWindMps: { label: 'Wind along the route', unit: 'm/s', scope: 'session' },
  crossWindMps: { label: 'Wind across the route', unit: 'm/s', scope: 'session' },
  meanHeadwindMps: { label: 'Mean headwind over the loop', unit: 'm/s', scope: 'run' },
  netClimbM: { label: 'Net climb', unit: 'm', scope: 'run' },
  auxiliaryPowerW: { label: 'Auxiliary power of the day', unit: 'W', scope: 'session' },
  auxiliaryHabitW: { label: 'Auxiliary power of the car', unit: 'W', scope: 'car' },
  brakingDecelerationMps2: { label: 'Deceleration of counted slow-downs', unit: 'm/s²', scope: 'car' },
  brakingOfCarShare: { label: 'Braking work, habit of the car', unit: '', scope: 'car' },
  brakingOfRunShare: { label: 'Braking work of the run', unit: '', scope: 'run' },
  massKg: { label: 'Mass as driven', unit: 'kg', scope: 'model' },
  dragAreaM2: { label: 'Drag area', unit: 'm²', scope: 'model' },
  rollingCoefficient: { label: 'Rolling resistance coefficient', unit: '', scope: 'model' },
  linearRollingNPerMps: { label: 'Speed-linear resistance', unit: 'N/(m/s)', scope: 'model' },
  drivetrainEfficiency: { label: 'Battery-to-wheel efficiency', unit: '', scope: 'model' },
  yawDragPerRad2: { label: 'Drag rise with yaw', unit: 'rad⁻²', scope: 'method' },
  rollingTemperaturePerK: { label: 'Temperature dependence of rolling', unit: 'K⁻¹', scope: 'method' },
  recuperationShare: { label: 'Share of braking energy recovered', unit: '', scope: 'method' },
  densityEquation: { label: 'Air density equation', unit: '', scope: 'method' },
  trafficWakeShare: { label: 'Wake of traffic (not corrected)', unit: '', scope: 'method' },
  roadSurfaceShare: { label: 'Road surface (not corrected)', unit: '', scope: 'session' },
  tyreWarmUpShare: { label: 'Tyre warm-up (not corrected)', unit: '', scope: 'run' },
  batteryTemperatureShare: {
    label: 'Battery temperature of the day (not corrected)',
    unit: '',
    scope: 'session',
  },
  batteryTemperatureCommonShare: {
    label: 'Battery temperature of all cars (not corrected)',
    unit: '',
    scope: 'method',
  },
  displayScaleOfModelShare: { label: 'Scale of the energy display, of the model', unit: '', scope: 'model' },
  displayScaleOfCarShare: { label: 'Scale of the energy display, of the car', unit: '', scope: 'car' },
  dragOfSetup: { label: 'Drag of the changed setup, of that learned', unit: '', scope: 'model' },
  rollingOfSetup: { label: 'Rolling of the changed setup, of that learned', unit: '', scope: 'model' },
};

const INDEX_OF: ReadonlyMap<string, number> = new Map(INPUT_NAMES.map((name, index) => [name, index]));

export function indexOfInput(name: InputName): number {
  return INDEX_OF.get(name) as number;
}
