import type { UnitCode } from './unit';

/** What a reader chooses of units: for each kind of quantity the units on offer, the first one unless told. */
export const UNIT_CHOICES = {
  consumption: ['kWh/100km', 'Wh/km', 'km/kWh', 'kWh/100mi', 'Wh/mi', 'mi/kWh'],
  distance: ['km', 'mi'],
  height: ['m', 'ft'],
  wind: ['m/s', 'km/h', 'mph', 'kn'],
  temperature: ['degC', 'degF'],
  tyrePressure: ['bar', 'kPa', 'psi'],
  airPressure: ['hPa', 'inHg'],
  mass: ['kg', 'lb'],
} as const satisfies Record<string, readonly [UnitCode, ...UnitCode[]]>;

export type ChosenKind = keyof typeof UNIT_CHOICES;
/** What a number can be said to be, so that it is said in the reader's unit. A speed goes with the distance. */
export type Kind = ChosenKind | 'speed';

export const DECIMAL_MARKS = ['point', 'comma'] as const;
export const APPEARANCES = ['system', 'light', 'dark'] as const;

type DecimalMark = (typeof DECIMAL_MARKS)[number];
type Appearance = (typeof APPEARANCES)[number];

/** How numbers are said to one reader. Plain data, so that it passes from the server to the browser. */
export type Display = { [Chosen in ChosenKind]: (typeof UNIT_CHOICES)[Chosen][number] } & {
  mark: DecimalMark;
};

/** Everything that is kept of a reader's choices. */
export type Preferences = Display & { appearance: Appearance };

export const DEFAULT_PREFERENCES: Preferences = {
  consumption: 'kWh/100km',
  distance: 'km',
  height: 'm',
  wind: 'm/s',
  temperature: 'degC',
  tyrePressure: 'bar',
  airPressure: 'hPa',
  mass: 'kg',
  mark: 'point',
  appearance: 'system',
};

/** Consumption is the unit of a page; the other choices go by their own names. */
export const ADDRESS_NAMES: Readonly<Record<keyof Display, string>> = {
  consumption: 'unit',
  distance: 'distance',
  height: 'height',
  wind: 'wind',
  temperature: 'temperature',
  tyrePressure: 'tyrePressure',
  airPressure: 'airPressure',
  mass: 'mass',
  mark: 'mark',
};

/**
 * The parameters under which an address says this display: only what differs from the default, in one order, so that
 * one picture has one address.
 */
export function displayParameters(display: Display): [name: string, value: string][] {
  return Object.entries(ADDRESS_NAMES).flatMap(([key, name]): [string, string][] => {
    const value = display[key as keyof Display];
    return value === DEFAULT_PREFERENCES[key as keyof Display] ? [] : [[name, value]];
  });
}

/** The reader's unit for a kind of quantity; a unit by itself stands for itself. */
export function unitFor(kind: Kind | UnitCode, display: Display): UnitCode {
  if (kind === 'speed') return display.distance === 'mi' ? 'mph' : 'km/h';
  return kind in UNIT_CHOICES ? display[kind as ChosenKind] : (kind as UnitCode);
}
