import { asJudged, type Said, type SaidNumber, said } from '@/lib/units/said';
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
  /** In the method's own units. */
  readonly message: string;
  /** The same with its numbers as data; left out where it has none. */
  readonly said?: Said | undefined;
}

function reason(code: ReachCode, said: Said): ReachReason {
  return { code, said, message: asJudged(said) };
}

/** A temperature as it was noted, to tenths at most. */
function degrees(value: number): SaidNumber {
  return { value, unit: 'degC', decimals: Number.isInteger(value) ? 0 : 1 };
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
    const [noted, coldest] = [degrees(run.airTemperatureC), degrees(limits.coldestC)];
    const apart = { ...noted, apart: [limits.coldestC] };
    reasons.push(
      reason('cold', said`${apart} is below ${coldest}, where tyres and battery no longer follow the model.`),
    );
  }
  if (run.airTemperatureC > limits.hottestC) {
    const [noted, hottest] = [degrees(run.airTemperatureC), degrees(limits.hottestC)];
    const apart = { ...noted, apart: [limits.hottestC] };
    reasons.push(
      reason('hot', said`${apart} is above ${hottest}, where tyres and cooling no longer follow the model.`),
    );
  }
  const wind = Math.hypot(run.alongWindMps, run.crossWindMps);
  if (wind > limits.windAtCarHeightMps + ROUNDING_MPS) {
    const limit = limits.windAtCarHeightMps;
    const found: SaidNumber = { value: wind, unit: 'm/s', decimals: 1, apart: [limit] };
    const most: SaidNumber = { value: limit, unit: 'm/s', decimals: Number.isInteger(limit) ? 0 : 1 };
    reasons.push(
      reason(
        'wind',
        said`A wind of ${found} at car height is above ${most}: its effect would be larger than what it is known to.`,
      ),
    );
  }
  const offClass = Math.abs(run.cruiseSpeedMps - reference.cruiseSpeedMps);
  if (offClass > limits.cruiseFromClassMps + ROUNDING_MPS) {
    const limit = limits.cruiseFromClassMps;
    const found: SaidNumber = { value: offClass, unit: 'km/h', decimals: 1, apart: [limit] };
    const most: SaidNumber = { value: limit, unit: 'km/h', decimals: 0 };
    reasons.push(
      reason('cruiseSpeed', said`The cruise speed is ${found} from the class, more than ${most}.`),
    );
  }
  return reasons;
}
