import type { FieldSpec } from './columns';

/** Stands in the first column of the template's example: a row that holds it is no row of anybody's. */
export const EXAMPLE_MARK = 'Example: this row is left out';

/** A plain run as its cells would be filled in, in the template's units. */
const CELLS: ReadonlyMap<string, string> = new Map([
  ['setupId', 'As delivered'],
  ['loopId', 'North causeway'],
  ['cruiseClassKey', '110 km/h'],
  ['startDate', '2026-05-14'],
  ['startTime', '09:30'],
  ['utcOffsetMin', '+01:00'],
  ['trueSpeedMethod', 'Satellite positioning (phone, logger)'],
  ['trueSpeed', '110.2'],
  ['chargeStart', '80'],
  ['chargeEnd', '51'],
  ['climate', 'Off'],
  ['tripDistance', '107.5'],
  ['tripEnergy', '32.9'],
  ['tripEfficiency', '30.6'],
  ['tripDuration', '0:58'],
  ['airTemperature', '8.0'],
  ['airPressure', '1013.2'],
  ['pressureKind', 'Altimeter setting (QNH)'],
  ['windSpeed', '4.1'],
  ['windFrom', 'SW'],
  ['precipitation', 'None'],
  ['road', 'Dry'],
  ['traffic', 'Free'],
  ['closeFollowing', 'No'],
  ['conditionsSource', 'Weather station report'],
]);

/** The template's example, a cell a field. */
export function exampleCells(fields: readonly Pick<FieldSpec, 'name'>[]): string[] {
  return fields.map(({ name }, at) => (at === 0 ? EXAMPLE_MARK : (CELLS.get(name) ?? '')));
}

export function isExampleRow(cells: readonly string[]): boolean {
  return cells.includes(EXAMPLE_MARK);
}
