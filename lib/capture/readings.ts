/**
 * What a car's or a charger's display said, as intervals.
 *
 * A display that shows q with a last digit worth 2a does not say "q", it says "somewhere in [q - a, q + a]"
 * (method A1; JCGM 100:2008, F.2.2.1, resolution of a digital indication). Everything in this room compares
 * such intervals and never the bare numbers.
 */

/** A reading in a canonical unit: the value shown, and the ends of what it can stand for. */
export interface Interval {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** The readings the checks know, with the words a sentence uses for each. */
export const readingLabels = {
  distanceM: 'distance',
  energyWh: 'energy',
  consumptionWhPerKm: 'shown efficiency',
  durationS: 'time',
  meanSpeedMps: 'mean speed',
  cruiseSpeedMps: 'cruise speed',
  chargeStart: 'charge at start',
  chargeTurnaround: 'charge at turnaround',
  chargeEnd: 'charge at finish',
  usableCapacityWh: 'usable capacity',
  chargerEnergyWh: 'charger energy',
  outboundDistanceM: 'distance at turnaround',
  outboundEnergyWh: 'energy at turnaround',
  outboundConsumptionWhPerKm: 'shown efficiency at turnaround',
  outboundDurationS: 'time at turnaround',
  odometerStartM: 'odometer at start',
  odometerEndM: 'odometer at finish',
} as const;

export type ReadingName = keyof typeof readingLabels;

/** Canonical units throughout: m, Wh, Wh/km, s, m/s; charge as a share 0..1. Absent means not read. */
export type Readings = { readonly [name in ReadingName]?: Interval };

export const readingNames = Object.keys(readingLabels) as ReadingName[];

/** A value known without a rounding step (a constant, a nameplate figure taken as it is). */
export function exactly(value: number): Interval {
  return { value, low: value, high: value };
}

/** A displayed value with half the worth of its last digit, in the same unit. */
export function withHalfDigit(value: number, halfDigit: number): Interval {
  return { value, low: value - halfDigit, high: value + halfDigit };
}

/** Quotient of two intervals; the divisor must lie wholly above zero, the dividend at or above it. */
export function divideIntervals(a: Interval, b: Interval): Interval {
  if (!(b.low > 0) || !(a.low >= 0)) throw new RangeError('interval division needs a >= 0 and b > 0');
  return { value: a.value / b.value, low: a.low / b.high, high: a.high / b.low };
}

/** Product of an interval at or above zero with a factor known to lie in another such interval. */
export function multiplyIntervals(a: Interval, b: Interval): Interval {
  if (!(a.low >= 0) || !(b.low >= 0)) throw new RangeError('interval product needs a >= 0 and b >= 0');
  return { value: a.value * b.value, low: a.low * b.low, high: a.high * b.high };
}

/** Difference of two intervals that vary independently. */
export function subtractIntervals(a: Interval, b: Interval): Interval {
  return { value: a.value - b.value, low: a.low - b.high, high: a.high - b.low };
}

export function scaleInterval(a: Interval, factor: number): Interval {
  return { value: a.value * factor, low: a.low * factor, high: a.high * factor };
}

/**
 * Whether two closed intervals share a point. The slack of one part in 10⁹ only absorbs binary rounding of ends
 * that meet exactly in decimal (2.025 against 64.8/32); it is far below any display's digit.
 */
export function intersects(a: Interval, b: Interval): boolean {
  const slack = 1e-9 * Math.max(Math.abs(a.low), Math.abs(a.high), Math.abs(b.low), Math.abs(b.high));
  return a.low <= b.high + slack && b.low <= a.high + slack;
}
