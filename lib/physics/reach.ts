import type { CaseRun } from './caseSchema';
import type { ReferenceConditions } from './roadLoad';

/**
 * The honest edge: outside it a run keeps its measured number but gets no normalised one. The limits are the method's
 * own and are data; a protocol may be narrower, never wider.
 */
export interface ReachLimits {
  readonly coldestC: number;
  readonly hottestC: number;
  /** Of the wind's rms at car height, both components together; about 12 m/s at 10 m. */
  readonly windAtCarHeightMps: number;
  readonly cruiseFromClassMps: number;
}

export const REACH_LIMITS: ReachLimits = {
  coldestC: -20,
  hottestC: 45,
  windAtCarHeightMps: 8,
  cruiseFromClassMps: 10 / 3.6,
};

export const REACH_CODES = [
  'precipitation',
  'roadSurface',
  'cold',
  'hot',
  'wind',
  'cruiseSpeed',
  'noRoadLoad',
  'belowZero',
] as const;
export type ReachCode = (typeof REACH_CODES)[number];

export interface ReachReason {
  readonly code: ReachCode;
  readonly message: string;
}

// a class 10 km/h away must not fall out by the last bit of a conversion
const ROUNDING_MPS = 1e-6;

/** Why the method does not reach a run; empty when it does. */
export function reasonsOutsideReach(
  run: CaseRun,
  reference: ReferenceConditions,
  limits: ReachLimits = REACH_LIMITS,
): ReachReason[] {
  const reasons: ReachReason[] = [];
  const { conditions } = run;
  if (conditions?.precipitation === 'rain' || conditions?.precipitation === 'snow') {
    reasons.push({
      code: 'precipitation',
      message: `It was ${conditions.precipitation === 'rain' ? 'raining' : 'snowing'}: water and snow on the road add a resistance that is not modelled.`,
    });
  }
  if (conditions?.roadSurface === 'wet' || conditions?.roadSurface === 'snow') {
    reasons.push({
      code: 'roadSurface',
      message: `The road was ${conditions.roadSurface === 'wet' ? 'wet' : 'covered with snow'}: rolling resistance on it is not modelled.`,
    });
  }
  if (run.airTemperatureC < limits.coldestC) {
    reasons.push({
      code: 'cold',
      message: `${run.airTemperatureC} °C is below ${limits.coldestC} °C, where tyres and battery no longer follow the model.`,
    });
  }
  if (run.airTemperatureC > limits.hottestC) {
    reasons.push({
      code: 'hot',
      message: `${run.airTemperatureC} °C is above ${limits.hottestC} °C, where tyres and cooling no longer follow the model.`,
    });
  }
  const wind = Math.hypot(run.alongWindMps, run.crossWindMps);
  if (wind > limits.windAtCarHeightMps + ROUNDING_MPS) {
    reasons.push({
      code: 'wind',
      message: `A wind of ${wind.toFixed(1)} m/s at car height is above ${limits.windAtCarHeightMps} m/s: its effect would be larger than what it is known to.`,
    });
  }
  const offClass = Math.abs(run.cruiseSpeedMps - reference.cruiseSpeedMps);
  if (offClass > limits.cruiseFromClassMps + ROUNDING_MPS) {
    reasons.push({
      code: 'cruiseSpeed',
      message: `The cruise speed is ${(offClass * 3.6).toFixed(1)} km/h from the class, more than ${(limits.cruiseFromClassMps * 3.6).toFixed(0)} km/h.`,
    });
  }
  return reasons;
}
