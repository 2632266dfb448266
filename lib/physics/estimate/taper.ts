import type { Prior } from '../priors';
import { ESTIMATE_PRIORS } from './estimatePriors';

export interface TaperPoint {
  /** State of charge, 0..1 of the usable capacity. */
  readonly charge: number;
  /** Into the battery. */
  readonly powerW: number;
}

/** Charging power over the state of charge, linear between points whose charges rise and whose powers are above 0. */
export interface ChargingCurve {
  readonly points: readonly TaperPoint[];
  /** From a data sheet, or the method's own guess, to be named as one. */
  readonly basis: 'stated' | 'assumed';
}

/** A curve that somebody stated; a RangeError where it is none. */
export function statedCurve(points: readonly TaperPoint[]): ChargingCurve {
  if (points.length < 2) throw new RangeError('a charging curve needs two points at least');
  points.forEach(({ charge, powerW }, i) => {
    const before = points[i - 1]?.charge ?? Number.NEGATIVE_INFINITY;
    if (!(charge > before)) throw new RangeError('the charges of a charging curve must rise');
    if (!(charge >= 0 && charge <= 1)) throw new RangeError('a state of charge lies between 0 and 1');
    if (!(powerW > 0 && Number.isFinite(powerW))) throw new RangeError('a charging power is above zero');
  });
  return { points, basis: 'stated' };
}

/** Share of the greatest power by state of charge: full up to a half, then falling. Common practice, no source. */
const ASSUMED_SHAPE: readonly (readonly [charge: number, share: number])[] = [
  [0, 1],
  [0.5, 1],
  [0.8, 0.5],
  [1, 0.1],
];

/** Where nobody stated one: the assumed shape on a peak that is stated, or follows from the capacity. */
export function assumedCurve(capacityWh: number, peakPowerW?: number): ChargingCurve {
  if (!(capacityWh > 0)) throw new RangeError('a capacity is above zero');
  const peak = peakPowerW ?? ESTIMATE_PRIORS.assumedPeakPerCapacity.value * capacityWh;
  if (!(peak > 0)) throw new RangeError('a charging power is above zero');
  return {
    points: ASSUMED_SHAPE.map(([charge, share]) => ({ charge, powerW: share * peak })),
    basis: 'assumed',
  };
}

/** Of a curve's power, what is met: closer to a stated one than to one that is assumed. */
export function powerPrior({ basis }: ChargingCurve): Prior {
  return ESTIMATE_PRIORS[basis === 'stated' ? 'statedPower' : 'assumedPower'];
}

/** The curve at a charger that gives no more than so much; still linear between its points. */
export function limitedBy(curve: ChargingCurve, chargerPowerW: number): ChargingCurve {
  if (!(chargerPowerW > 0)) throw new RangeError('a charging power is above zero');
  const points: TaperPoint[] = [];
  curve.points.forEach((point, i) => {
    const before = curve.points[i - 1];
    if (before !== undefined && (before.powerW - chargerPowerW) * (point.powerW - chargerPowerW) < 0) {
      const share = (chargerPowerW - before.powerW) / (point.powerW - before.powerW);
      const charge = before.charge + share * (point.charge - before.charge);
      if (charge > before.charge && charge < point.charge) points.push({ charge, powerW: chargerPowerW });
    }
    points.push({ charge: point.charge, powerW: Math.min(point.powerW, chargerPowerW) });
  });
  return { ...curve, points };
}

/**
 * Time in s to charge from one state of charge to a higher one, t = C·∫ dq/P(q), integrated exactly: over a piece on
 * which P runs linearly from P₀ to P₁ it is C·Δq·ln(P₁/P₀)/(P₁ − P₀), and C·Δq/P₀ where they are equal (calculus).
 * Outside its points the curve holds its end values. Capacity in Wh, power in W; the power is what enters the battery.
 */
export function chargingTimeS(curve: ChargingCurve, capacityWh: number, from: number, to: number): number {
  if (!(from >= 0 && to <= 1 && to >= from)) throw new RangeError('a charge runs from 0 to 1, upwards');
  const { points } = curve;
  const last = points[points.length - 1] as TaperPoint;
  let perCapacity = 0;
  let left: TaperPoint = { charge: 0, powerW: (points[0] as TaperPoint).powerW };
  for (const right of [...points, { charge: 1, powerW: last.powerW }]) {
    perCapacity += pieceOf(left, right, from, to);
    left = right;
  }
  return 3600 * capacityWh * perCapacity;
}

/** ∫ dq/P over the part of one piece between two charges. */
function pieceOf(left: TaperPoint, right: TaperPoint, from: number, to: number): number {
  const low = Math.max(from, left.charge);
  const high = Math.min(to, right.charge);
  if (!(high > low)) return 0;
  const slope = (right.powerW - left.powerW) / (right.charge - left.charge);
  const powerW = left.powerW + slope * (low - left.charge);
  const rise = (slope * (high - low)) / powerW;
  return ((high - low) / powerW) * (Math.abs(rise) < 1e-12 ? 1 : Math.log1p(rise) / rise);
}
