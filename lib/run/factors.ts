/** What of a car another level of a factor changes. */
export type Changed = 'drag' | 'rolling' | 'mass' | 'auxiliaryPower';

interface Factor {
  key: string;
  label: string;
  changes: readonly Changed[];
}

/**
 * The factors that make a setup: what a tester may change on one car between runs, and what that changes. Learning a
 * model's road load and adopting it both go by this table, so it is part of the method's version. A drive mode may lower
 * the car and change which motors drive, and so drag and rolling as ratios to efficiency; wheels and tyres change the
 * drag of the wheels as well as the rolling. Mass and auxiliary power stand in the model of a run by themselves.
 */
export const FACTORS = [
  { key: 'driveMode', label: 'Drive mode', changes: ['drag', 'rolling'] },
  { key: 'rideHeight', label: 'Ride height', changes: ['drag'] },
  { key: 'wheelTyre', label: 'Wheel and tyre', changes: ['drag', 'rolling'] },
  { key: 'tyrePressure', label: 'Tyre pressure', changes: ['rolling'] },
  { key: 'load', label: 'Load', changes: ['mass'] },
  { key: 'openingsCovers', label: 'Openings and covers', changes: ['drag'] },
  { key: 'roofHitch', label: 'Roof and hitch items', changes: ['drag'] },
  { key: 'cabinClimate', label: 'Cabin climate', changes: ['auxiliaryPower'] },
] as const satisfies readonly Factor[];

export type FactorKey = (typeof FACTORS)[number]['key'];

/** Whether another level of the factor changes this of a car. One that the table does not know may change anything. */
export function factorChanges(key: string, what: Changed): boolean {
  const factor: Factor | undefined = FACTORS.find((each) => each.key === key);
  return factor === undefined || factor.changes.includes(what);
}

/** Whether drag and rolling are the same at every level of the factor. */
export function leavesRoadLoad(key: string): boolean {
  return !factorChanges(key, 'drag') && !factorChanges(key, 'rolling');
}

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
