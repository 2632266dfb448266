import { interval95, welchSatterthwaite } from '../budget';
import type { ChargeUsed } from './usableEnergy';
import { usableEnergy } from './usableEnergy';

/** A consumption on the log scale, as the statistics give it. */
export interface LogConsumption {
  /** ln(Wh/km). */
  readonly log: number;
  readonly u: number;
  readonly df: number;
}

export interface RangeEstimate {
  readonly rangeM: number;
  /** Relative standard uncertainty, and its two parts. */
  readonly relativeU: number;
  readonly ofEnergy: number;
  readonly ofConsumption: number;
  readonly effectiveDof: number;
  readonly interval95M: readonly [number, number];
}

/**
 * How far a charge lasts, E/e, with its interval on the log scale: relative uncertainties of a quotient add in squares
 * (JCGM 100:2008, 5.1.6), degrees of freedom by Welch–Satterthwaite with the battery's taken as infinite.
 */
export function rangeOf(consumption: LogConsumption, charge: ChargeUsed): RangeEstimate {
  const energy = usableEnergy(charge);
  const ofEnergy = energy.u / energy.value;
  const relativeU = Math.hypot(ofEnergy, consumption.u);
  const effectiveDof = welchSatterthwaite(
    relativeU,
    [ofEnergy, consumption.u],
    [Number.POSITIVE_INFINITY, consumption.df],
  );
  const log = Math.log((1000 * energy.value) / Math.exp(consumption.log));
  const [low, high] = interval95(log, relativeU, effectiveDof);
  return {
    rangeM: Math.exp(log),
    relativeU,
    ofEnergy,
    ofConsumption: consumption.u,
    effectiveDof,
    interval95M: [Math.exp(low), Math.exp(high)],
  };
}

export interface RangeDifference {
  /** First less second. */
  readonly differenceM: number;
  readonly uM: number;
  readonly interval95M: readonly [number, number];
}

/**
 * Difference of the ranges of two setups on one charge of one car: R₁ − R₂ = E·(1/e₁ − 1/e₂), so its relative part of
 * the battery is that of E alone. `uOfLogs` gives the standard uncertainty and degrees of freedom of
 * w₁·ln e₁ + w₂·ln e₂ with all that the two share; here w = −R₁, R₂ (law of propagation, JCGM 100:2008, 5.2).
 */
export function rangeDifference(
  first: RangeEstimate,
  second: RangeEstimate,
  uOfLogs: (weights: readonly [number, number]) => { readonly u: number; readonly df: number },
): RangeDifference {
  const differenceM = first.rangeM - second.rangeM;
  const consumption = uOfLogs([-first.rangeM, second.rangeM]);
  const battery = differenceM * first.ofEnergy;
  const uM = Math.hypot(consumption.u, battery);
  const dof = welchSatterthwaite(uM, [consumption.u, battery], [consumption.df, Number.POSITIVE_INFINITY]);
  return { differenceM, uM, interval95M: interval95(differenceM, uM, dof) };
}
