import type { Prior } from '../priors';

const TRADE = 'common practice, no source';

/**
 * What an estimate believes beyond the road load: no published result rests on it, so it has no part in the version of
 * the method's table, and a change moves no number of the registry.
 */
export const ESTIMATE_PRIORS = {
  usableShare: {
    label: 'Usable energy of a used battery, of that when new',
    unit: '',
    value: 0.95,
    u: 0.03,
    relativeU: 0,
    low: 0.85,
    high: 1,
    distribution: 'normal',
    source: TRADE,
  },
  coldPerK: {
    label: 'Usable energy lost per kelvin of battery below 10 °C',
    unit: 'K⁻¹',
    value: 0.003,
    u: 0.002,
    relativeU: 0,
    low: 0,
    high: 0.008,
    distribution: 'normal',
    source: TRADE,
  },
  statedPower: {
    label: 'Charging power of a stated curve, of itself',
    unit: '',
    value: 1,
    u: 0.1,
    relativeU: 0,
    low: 0.7,
    high: 1.1,
    distribution: 'normal',
    source: TRADE,
  },
  assumedPower: {
    label: 'Charging power of the assumed curve, of itself',
    unit: '',
    value: 1,
    u: 0.25,
    relativeU: 0,
    low: 0.5,
    high: 1.6,
    distribution: 'normal',
    source: TRADE,
  },
  assumedPeakPerCapacity: {
    label: 'Greatest charging power assumed, per usable capacity',
    unit: 'h⁻¹',
    value: 1.5,
    u: 0.4,
    relativeU: 0,
    low: 0.8,
    high: 3,
    distribution: 'normal',
    source: TRADE,
  },
} as const satisfies Record<string, Prior>;

/** Below this temperature of the battery less of its energy is to be had. */
export const COLD_BATTERY_C = 10;

/** Every line, for the page that shows the method's tables. */
export function estimatePriors(): readonly Prior[] {
  return Object.values(ESTIMATE_PRIORS);
}
