/** The factors that make a setup: what a tester may change on one car between runs. */
export const FACTORS = [
  { key: 'driveMode', label: 'Drive mode' },
  { key: 'rideHeight', label: 'Ride height' },
  { key: 'wheelTyre', label: 'Wheel and tyre' },
  { key: 'tyrePressure', label: 'Tyre pressure' },
  { key: 'load', label: 'Load' },
  { key: 'openingsCovers', label: 'Openings and covers' },
  { key: 'roofHitch', label: 'Roof and hitch items' },
  { key: 'cabinClimate', label: 'Cabin climate' },
] as const;

export type FactorKey = (typeof FACTORS)[number]['key'];

export function isFactorKey(value: string): value is FactorKey {
  return FACTORS.some((factor) => factor.key === value);
}

export function factorLabel(key: string): string {
  return FACTORS.find((factor) => factor.key === key)?.label ?? key;
}

export interface FactorLevelRef {
  factor: string;
  key: string;
}

/**
 * The order-free identity of a set of factor levels, so that two testers who pick the same levels
 * land on the same setup.
 */
export function levelsKey(levels: readonly FactorLevelRef[]): string {
  return levels
    .map((level) => `${level.factor}=${level.key}`)
    .sort()
    .join(';');
}
