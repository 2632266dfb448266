import type { InputIssue } from './errors';
import type { Choices, RunQuantity } from './fields/table';
import type { Readings } from './runRecord';

/** A wind of more than this has a direction, m/s. */
export const CALM_MPS = 0.5;

/** What a form asks for together: one of two readings, or a reading with the choice that gives it a meaning. */
export function missingTogether(
  readings: Readings,
  choices: Partial<Choices>,
  found: readonly InputIssue[],
): InputIssue[] {
  const issues: InputIssue[] = [];
  const isAbsent = (quantity: RunQuantity) =>
    readings[quantity] === undefined && !found.some(({ path }) => path === quantity);
  if (isAbsent('tripEnergy') && isAbsent('tripEfficiency')) {
    issues.push({
      path: 'tripEnergy',
      what: 'No energy reading.',
      why: 'Consumption is energy over distance; the change of charge alone is too coarse.',
      fix: 'Enter the energy used, the average consumption shown, or both.',
    });
  }
  if (readings.chargerEnergy !== undefined && choices.chargerKind === undefined) {
    issues.push({
      path: 'chargerKind',
      what: 'Which kind of charger was it?',
      why: 'Fast chargers and wall boxes lose different shares.',
      fix: 'Choose DC or AC.',
    });
  }
  const kind = choices.pressureKind;
  if (kind !== undefined && kind !== 'altitudeOnly' && isAbsent('airPressure')) {
    issues.push({
      path: 'airPressure',
      what: 'The pressure itself is missing.',
      why: 'A kind of pressure was chosen, but no value.',
      fix: 'Enter the pressure, or choose “Not known: use the loop’s altitude”.',
    });
  }
  if (readings.airPressure !== undefined && kind === 'altitudeOnly') {
    issues.push({
      path: 'pressureKind',
      what: 'A pressure was entered without its kind.',
      why: 'Altimeter setting, sea-level and local pressure differ by several per cent high up.',
      fix: 'Choose which one it is, or clear the pressure.',
    });
  }
  const isUnknown = choices.windDirectionKnown === 'no';
  if (isUnknown && readings.windFrom !== undefined) {
    issues.push({
      path: 'windDirectionKnown',
      what: 'A direction of the wind was entered beside “No”.',
      why: 'It is counted as given or as not known, and not as both.',
      fix: 'Clear the direction, or choose “Yes”.',
    });
  }
  if ((readings.windSpeed?.value ?? 0) > CALM_MPS && isAbsent('windFrom') && !isUnknown) {
    issues.push({
      path: 'windFrom',
      what: 'The wind’s direction is missing.',
      why: 'Along and across the road the same wind costs very different amounts.',
      fix: 'Enter the direction that it blew from, in degrees (90 is east), or say that it is not known.',
    });
  }
  return issues;
}
