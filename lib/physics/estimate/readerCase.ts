import { ASSUMED_HUMIDITY } from '../air';
import { type PressureReport, stationPressure } from '../atmosphere';
import type { NormalisationCase } from '../caseSchema';
import { type BearingShare, meanHeadwindMps, windOnLoop } from '../wind';

/** What a reader asks about, in SI units. What is stated is taken as it stands: the answer is for just these conditions. */
export interface ReaderConditions {
  readonly distanceM: number;
  /** True speed, held all the way. */
  readonly cruiseSpeedMps: number;
  readonly airTemperatureC: number;
  readonly pressure: PressureReport;
  /** 0..1; assumed when not stated. */
  readonly relativeHumidity?: number | undefined;
  /** Mean at 10 m; without a direction it is taken as coming from everywhere alike. */
  readonly wind: {
    readonly speedMps: number;
    readonly fromDeg: number | null;
    readonly gustMps?: number | undefined;
  };
  /** Bearings of the way out. */
  readonly route: readonly BearingShare[];
  /** There and back on the same road the mean headwind is zero. */
  readonly isThereAndBack: boolean;
  readonly netClimbM: number;
  readonly climate: NonNullable<NormalisationCase['run']['climate']>;
  readonly hasHeatPump: boolean;
  /** In place of what is believed of the climate setting. */
  readonly auxiliaryPowerW?: number | undefined;
  readonly traffic: NonNullable<NonNullable<NormalisationCase['run']['conditions']>['traffic']>;
}

/** Car and setup as the registry's runs of it were reduced, so that their errors are the same random variables. */
export type ReaderCar = Pick<NormalisationCase, 'vehicle' | 'uncertainty' | 'correlations'>;

/** The engine's case wants an energy; an estimate does not read it. */
const UNREAD_WH_PER_KM = 150;

/**
 * A reader's conditions as a case of the engine, to be run backwards: a steady drive without stops. What is stated has
 * no uncertainty; wind at the road has (reduction from 10 m, exposure), and so have a pressure known by the altitude
 * alone and a humidity that was not stated. On one way the mean headwind enters in first order, and the same unknown
 * moves it and the wind's rms along the road: they are correlated fully.
 */
export function readerCase(
  car: ReaderCar,
  conditions: ReaderConditions,
  classSpeedMps: number,
): NormalisationCase {
  const { distanceM, cruiseSpeedMps, airTemperatureC, isThereAndBack } = conditions;
  const back = conditions.route.map(({ bearingDeg, lengthM }) => ({ bearingDeg: bearingDeg + 180, lengthM }));
  const wind = windOnLoop(
    conditions.wind,
    isThereAndBack ? [...conditions.route, ...back] : conditions.route,
  );
  const headwind = isThereAndBack ? null : meanHeadwindMps(conditions.wind, conditions.route);
  const pressure = stationPressure(conditions.pressure);
  const byAltitude = conditions.pressure.kind === 'altitude';
  const humidity =
    conditions.relativeHumidity === undefined
      ? ASSUMED_HUMIDITY
      : { value: conditions.relativeHumidity, u: 0 };
  const session = (u: number) => ({ u, scope: 'session' as const });
  return {
    vehicle: car.vehicle,
    run: {
      distanceM,
      energyWh: (UNREAD_WH_PER_KM * distanceM) / 1000,
      durationS: distanceM / cruiseSpeedMps,
      cruiseSpeedMps,
      // held all the way
      meanSquareSpeedM2S2: cruiseSpeedMps ** 2,
      airTemperatureC,
      pressurePa: pressure.pressurePa,
      relativeHumidity: humidity.value,
      windHoldsItsUncertainty: true,
      alongWindMps: wind.alongWindMps,
      crossWindMps: wind.crossWindMps,
      ...(headwind === null ? {} : { meanHeadwindMps: headwind.valueMps }),
      netClimbM: conditions.netClimbM,
      climate: conditions.climate,
      hasHeatPump: conditions.hasHeatPump,
      ...(conditions.auxiliaryPowerW === undefined ? {} : { auxiliaryPowerW: conditions.auxiliaryPowerW }),
      conditions: { precipitation: 'none', roadSurface: 'dry', traffic: conditions.traffic },
    },
    reference: { cruiseSpeedMps: classSpeedMps },
    uncertainty: {
      ...car.uncertainty,
      distanceM: { u: 0 },
      durationS: { u: 0 },
      cruiseSpeedMps: { u: 0 },
      meanSquareSpeedM2S2: { u: 0 },
      airTemperatureC: session(0),
      pressurePa: session(byAltitude ? pressure.uPa : 0),
      relativeHumidity: session(humidity.u),
      alongWindMps: session(wind.uAlongMps),
      crossWindMps: session(wind.uCrossMps),
      ...(headwind === null ? {} : { meanHeadwindMps: session(headwind.uMps) }),
      netClimbM: { u: 0 },
      ...(conditions.auxiliaryPowerW === undefined ? {} : { auxiliaryPowerW: { u: 0 } }),
    },
    ...withCorrelation(car.correlations, headwind?.valueMps ?? 0),
  };
}

function withCorrelation(
  given: NormalisationCase['correlations'],
  headwindMps: number,
): Pick<NormalisationCase, 'correlations'> {
  const own: NonNullable<NormalisationCase['correlations']> =
    headwindMps === 0
      ? []
      : [{ inputs: ['meanHeadwindMps', 'alongWindMps'], coefficient: Math.sign(headwindMps) }];
  const all = [...(given ?? []), ...own];
  return all.length === 0 ? {} : { correlations: all };
}
