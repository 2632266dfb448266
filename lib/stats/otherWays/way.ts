import type { FitRow } from '../fitRow';

/** The other ways in which a difference is computed, in the order in which they are drawn (method C4). */
export const WAYS = [
  'asMeasured',
  'withoutWind',
  'withoutAir',
  'sameSession',
  'loopFixed',
  'withoutStragglers',
  'withoutRetrospective',
  'withoutDenseTraffic',
  'trafficFixed',
] as const;
export type Way = (typeof WAYS)[number];

/** A run with what the other ways need of it. */
export interface WayRun extends FitRow {
  /** ln of the consumption as measured, Wh/km; null where it is not known. */
  measuredZ: number | null;
  /** ln of the factors that the steps for wind, and for air density and temperature, brought in; null as above. */
  windLog: number | null;
  airLog: number | null;
  isRetrospective: boolean;
  traffic: 'free' | 'moderate' | 'dense';
}

/** A difference computed another way, ln(a) − ln(b). */
export interface OtherWay {
  way: Way;
  /** Null where this way has no answer for the pair. */
  difference: number | null;
  /** Interval of the pair taken alone; null where the way has none. */
  interval: [number, number] | null;
}

/** The difference with each car left out in turn. */
export interface CarsLeftOut {
  /** Cars that move it. */
  cars: number;
  /** Of these, how many leave a difference behind, and how many of those one of the same sign. */
  answered: number;
  sameSign: number;
  low: number;
  high: number;
}

/** What the method's choices do to one difference. */
export interface OtherWays {
  ways: OtherWay[];
  /** Ways that would leave out what no run of the class has, or that compute the same. */
  same: Way[];
  carsLeftOut: CarsLeftOut | null;
}

/** The same differences seen from the other setup: signs turn, and the ends of an interval change places. */
export function turnWays({ ways, same, carsLeftOut }: OtherWays): OtherWays {
  return {
    ways: ways.map(({ way, difference, interval }) => ({
      way,
      difference: difference === null ? null : -difference,
      interval: interval === null ? null : [-interval[1], -interval[0]],
    })),
    same,
    carsLeftOut: carsLeftOut && { ...carsLeftOut, low: -carsLeftOut.high, high: -carsLeftOut.low },
  };
}
