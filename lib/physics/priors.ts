import type { BodyClass } from '@/lib/run/bodyClass';
import type { ChoiceValue } from '@/lib/run/fields/table';
import type { TyreKind } from '@/lib/run/tyreKind';
import type { Distribution } from './budget';

/**
 * What is believed before a run is measured, in one table: value, standard uncertainty, range and where it is from.
 * A car's own values override it. Changing a line is a new version of the table; results name the version they used.
 */
export const PRIORS_VERSION = '2';

export interface Prior {
  readonly label: string;
  readonly unit: string;
  readonly value: number;
  /** Standard uncertainty, absolute; for a share of the value see `relativeU`. */
  readonly u: number;
  /** Standard uncertainty as a share of the value actually used; combined in quadrature with `u`. */
  readonly relativeU: number;
  readonly low: number;
  readonly high: number;
  readonly distribution: Distribution;
  readonly source: string;
}

const OWN = 'own judgement of the method, to be replaced by data';
const TRADE = 'common practice, no source';

type PriorRow = [
  label: string,
  unit: string,
  value: number,
  u: number,
  relativeU: number,
  low: number,
  high: number,
  distribution: Distribution,
  source: string,
];

const row = (...[label, unit, value, u, relativeU, low, high, distribution, source]: PriorRow): Prior => ({
  label,
  unit,
  value,
  u,
  relativeU,
  low,
  high,
  distribution,
  source,
});

export const DRAG_AREA_PRIORS: Readonly<Record<BodyClass, Prior>> = {
  saloon: row('Drag area, saloon', 'm²', 0.52, 0.05, 0, 0.42, 0.65, 'normal', TRADE),
  hatch: row('Drag area, hatch', 'm²', 0.6, 0.06, 0, 0.48, 0.75, 'normal', TRADE),
  suv: row('Drag area, SUV', 'm²', 0.75, 0.08, 0, 0.6, 0.95, 'normal', TRADE),
  van: row('Drag area, van', 'm²', 1.1, 0.15, 0, 0.8, 1.5, 'normal', TRADE),
  pickup: row('Drag area, pick-up', 'm²', 1.1, 0.12, 0, 0.85, 1.4, 'normal', TRADE),
};

export const ROLLING_PRIORS: Readonly<Record<TyreKind, Prior>> = {
  road: row('Rolling coefficient, road tyre', '', 0.009, 0.0012, 0, 0.0065, 0.012, 'normal', TRADE),
  allTerrain: row(
    'Rolling coefficient, all-terrain tyre',
    '',
    0.0115,
    0.0018,
    0,
    0.008,
    0.016,
    'normal',
    TRADE,
  ),
};

/** Cooling is stated for 35 °C and heating for −5 °C; between there and 20 °C it falls linearly to `off`. */
export const AUXILIARY_PRIORS: Readonly<Record<ChoiceValue<'climate'>, Prior>> = {
  off: row('Auxiliary power, climate off', 'W', 350, 150, 0, 150, 700, 'normal', TRADE),
  mild: row('Auxiliary power, mild', 'W', 700, 300, 0, 250, 1400, 'normal', TRADE),
  cooling: row('Auxiliary power, cooling at 35 °C', 'W', 1500, 500, 0, 600, 3000, 'normal', TRADE),
  heating: row('Auxiliary power, heating at −5 °C', 'W', 2500, 900, 0, 1000, 5000, 'normal', TRADE),
};
/** A heat pump takes this share less for heating. */
export const HEAT_PUMP_SAVING = 0.4;

export const VEHICLE_PRIORS = {
  mass: row('Mass as driven: registered kerb mass and load', 'kg', 2000, 50, 0, 600, 5000, 'normal', OWN),
  statedDragArea: row('Drag area, given as a number', 'm²', 0.6, 0, 0.1, 0.3, 3, 'normal', OWN),
  statedRolling: row(
    'Rolling coefficient, given as a number',
    '',
    0.009,
    0,
    0.133,
    0.004,
    0.03,
    'normal',
    OWN,
  ),
  coastDown: row('Coast-down coefficient, given as a number', '', 0, 0, 0.03, 0, 0, 'normal', OWN),
  efficiency: row('Battery-to-wheel efficiency', '', 0.9, 0.02, 0, 0.84, 0.95, 'normal', TRADE),
  yawDrag: row('Drag rise with yaw', 'rad⁻²', 3, 2 / Math.sqrt(3), 0, 1, 5, 'rectangular', TRADE),
  changedDrag: row('Drag of a changed setup, of that learned', '', 1, 0, 0.05, 0.9, 1.2, 'normal', OWN),
  changedRolling: row('Rolling of a changed setup, of that learned', '', 1, 0, 0.05, 0.9, 1.2, 'normal', OWN),
  recuperation: row('Share of braking energy recovered', '', 0.6, 0.15, 0, 0.3, 0.9, 'normal', TRADE),
  brakingDeceleration: row(
    'Deceleration of counted slow-downs',
    'm/s²',
    0.6,
    0.2,
    0,
    0.3,
    1.5,
    'normal',
    OWN,
  ),
  brakingWork: row('Braking work, of itself', '', 0, 0.3, 0, -0.5, 0.5, 'normal', OWN),
  rollingPerK: row(
    'Temperature dependence of rolling, 5–40 °C',
    'K⁻¹',
    8.6e-3,
    1e-3,
    0,
    6e-3,
    1.1e-2,
    'normal',
    'UN GTR No. 15, Annex 4 (value); uncertainty: own judgement',
  ),
  rollingPerKExtrapolated: row(
    'Temperature dependence of rolling, extrapolated',
    'K⁻¹',
    8.6e-3,
    2e-3,
    0,
    4e-3,
    1.3e-2,
    'normal',
    'UN GTR No. 15, Annex 4 (value); uncertainty: own judgement',
  ),
} as const satisfies Record<string, Prior>;

/** Uncertainty of a reading whose instrument was not stated. `value` is only there to show a typical size. */
export const READING_PRIORS = {
  energyWh: row(
    'Energy shown to 0.1 kWh',
    'Wh',
    30_000,
    50 / Math.sqrt(3),
    0,
    0,
    0,
    'rectangular',
    'JCGM 100, F.2.2.1',
  ),
  distanceM: row('Distance of the loop', 'm', 100_000, 0, 0.002, 0, 0, 'normal', OWN),
  durationS: row(
    'Duration to the minute',
    's',
    3600,
    30 / Math.sqrt(3),
    0,
    0,
    0,
    'rectangular',
    'JCGM 100, F.2.2.1',
  ),
  cruiseSpeedMps: row('True cruise speed, ± 0.5 km/h', 'm/s', 30, 0.5 / 3.6, 0, 0, 0, 'normal', OWN),
  meanSquareSpeedM2S2: row('Mean squared speed from a trace', 'm²/s²', 900, 0, 0.005, 0, 0, 'normal', OWN),
  meanSquareRatio: row(
    'Mean squared speed of the loop, of cruise: a quarter of what it lacks',
    '',
    0.97,
    0,
    0,
    0.5,
    1,
    'normal',
    OWN,
  ),
  offCruiseShare: row('Off-cruise share of the loop', '', 0.05, 0, 0.25, 0, 0.5, 'normal', OWN),
  offCruiseSpeedRatio: row('Off-cruise speed, of cruise', '', 0.6, 0.12, 0, 0.3, 0.9, 'normal', OWN),
  airTemperatureC: row('Air temperature at the road', '°C', 20, 1, 0, 0, 0, 'normal', OWN),
  airDensityKgM3: row('Air density, given as a number', 'kg/m³', 1.189, 0, 0.004, 0, 0, 'normal', OWN),
  pressurePa: row('Station pressure', 'Pa', 100_000, 100, 0, 0, 0, 'normal', OWN),
  relativeHumidity: row('Relative humidity', '', 0.5, 0.05, 0, 0, 1, 'normal', OWN),
  wind: row(
    'Wind at car height: exposure 30 %, reduction 0.66 ± 0.10, and 0.3 m/s for a report of calm',
    'm/s',
    2,
    0.3,
    Math.hypot(0.3, 0.1 / Math.sqrt(3) / 0.66),
    0,
    8,
    'normal',
    OWN,
  ),
  netClimbM: row('Net climb', 'm', 0, 2, 0, -5, 5, 'normal', OWN),
  auxiliaryPowerW: row('Auxiliary power, given as a number', 'W', 500, 75, 0.3, 0, 0, 'normal', OWN),
  energyDisplayScale: row('Scale of the energy display', '', 0, 0.01, 0, -0.03, 0.03, 'normal', TRADE),
} as const satisfies Record<string, Prior>;

/** Not corrected, only widening; half-widths of rectangular distributions as standard uncertainties. */
export const UNCORRECTED_PRIORS = {
  traffic: {
    free: row('Wake of free traffic', '', 0, 0, 0, 0, 0, 'rectangular', OWN),
    moderate: row(
      'Wake of moderate traffic, of drag',
      '',
      0,
      0.01 / Math.sqrt(3),
      0,
      -0.01,
      0.01,
      'rectangular',
      OWN,
    ),
    dense: row(
      'Wake of dense traffic, of drag',
      '',
      0,
      0.03 / Math.sqrt(3),
      0,
      -0.03,
      0.03,
      'rectangular',
      OWN,
    ),
  },
  roadSurface: row(
    'Road surface, of rolling',
    '',
    0,
    0.01 / Math.sqrt(3),
    0,
    -0.01,
    0.01,
    'rectangular',
    OWN,
  ),
  tyreWarmUp: row('Tyre warm-up, of rolling', '', 0, 0.01 / Math.sqrt(3), 0, -0.01, 0.01, 'rectangular', OWN),
  batteryTemperature: row(
    'Battery temperature, of energy; at 20 °C and above',
    '',
    0,
    0.005 / Math.sqrt(3),
    0,
    -0.005,
    0.005,
    'rectangular',
    OWN,
  ),
} as const;

/** What runs of a class are believed to differ by, of consumption, until the class has runs enough to see it (method B5). */
export const COMPONENT_PRIORS = {
  car: row(
    'Difference between cars of a model, of consumption',
    '',
    0,
    0.015,
    0,
    -0.045,
    0.045,
    'normal',
    TRADE,
  ),
  session: row(
    'Difference between days of a car, of consumption',
    '',
    0,
    0.012,
    0,
    -0.036,
    0.036,
    'normal',
    TRADE,
  ),
  run: row(
    'Difference between runs of a day beyond their budgets, of consumption',
    '',
    0,
    0.008,
    0,
    -0.024,
    0.024,
    'normal',
    TRADE,
  ),
} as const satisfies Record<string, Prior>;

/** Auxiliary power is a habit of the car and of the day: shares of its u, 0.8² + 0.6² = 1. Own judgement. */
export const AUXILIARY_PARTS = { car: 0.8, session: 0.6 } as const;
/**
 * What two scopes share evenly: the display's scale (firmware of the model, shunt of the car), braking work (habit of
 * the car, traffic of the run), battery temperature (common to all cold runs, and the day's). Own judgement.
 */
export const EVEN_PART = 0.7;
/** Off-cruise driving differs from run to run by this share of itself. Own judgement. */
export const OFF_CRUISE_RELATIVE_U = 0.25;

/** Standard uncertainty of a loop's M2/v² as a run of it has it. */
export function meanSquareRatioU(ratio: number): number {
  return OFF_CRUISE_RELATIVE_U * Math.abs(1 - ratio);
}

/**
 * Half-width, as a share of energy, of what battery temperature does: 0.5 %, and 3.5 % more over the 40 K below 20 °C
 * (own judgement of the method). A cold battery has more resistance and is heated; neither is corrected.
 */
export function batteryTemperatureHalfWidth(airTemperatureC: number): number {
  return 0.005 + (0.035 * Math.max(0, 20 - airTemperatureC)) / 40;
}

/** Standard uncertainty that a prior gives to a value actually used. */
export function priorU(prior: Prior, value: number): number {
  const relative = prior.relativeU * value;
  return relative === 0 ? prior.u : Math.sqrt(prior.u * prior.u + relative * relative);
}

/** Auxiliary power in W with its standard uncertainty for a climate setting at an outside temperature in °C. */
export function auxiliaryPowerPrior(
  mode: ChoiceValue<'climate'>,
  outsideC: number,
  hasHeatPump = false,
): { valueW: number; uW: number } {
  const off = AUXILIARY_PRIORS.off;
  const chosen = AUXILIARY_PRIORS[mode];
  if (mode === 'off' || mode === 'mild') return { valueW: chosen.value, uW: chosen.u };
  const demand = Math.max(0, mode === 'cooling' ? (outsideC - 20) / 15 : (20 - outsideC) / 25);
  const saving = mode === 'heating' && hasHeatPump ? 1 - HEAT_PUMP_SAVING : 1;
  return {
    valueW: off.value + (chosen.value * saving - off.value) * demand,
    uW: Math.hypot(off.u * (1 - Math.min(1, demand)), chosen.u * saving * demand),
  };
}

/** Every line of the table, for the page that shows it. */
export function allPriors(): readonly Prior[] {
  const { traffic, ...uncorrected } = UNCORRECTED_PRIORS;
  return [
    ...Object.values(DRAG_AREA_PRIORS),
    ...Object.values(ROLLING_PRIORS),
    ...Object.values(AUXILIARY_PRIORS),
    ...Object.values(VEHICLE_PRIORS),
    ...Object.values(READING_PRIORS),
    ...Object.values(traffic),
    ...Object.values(uncorrected),
    ...Object.values(COMPONENT_PRIORS),
  ];
}

/** Standard deviations on the log scale that a young class borrows. */
export function youngClassSpread(): { carSd: number; sessionSd: number; runSd: number } {
  const { car, session, run } = COMPONENT_PRIORS;
  return { carSd: car.u, sessionSd: session.u, runSd: run.u };
}
