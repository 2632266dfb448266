import { z } from 'zod';
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

const choicesShape = {
  consumption: z.enum(UNIT_CHOICES.consumption),
  distance: z.enum(UNIT_CHOICES.distance),
  height: z.enum(UNIT_CHOICES.height),
  wind: z.enum(UNIT_CHOICES.wind),
  temperature: z.enum(UNIT_CHOICES.temperature),
  tyrePressure: z.enum(UNIT_CHOICES.tyrePressure),
  airPressure: z.enum(UNIT_CHOICES.airPressure),
  mass: z.enum(UNIT_CHOICES.mass),
  mark: z.enum(DECIMAL_MARKS),
} as const;

const displaySchema = z.object(choicesShape);
/** How numbers are said to one reader. Plain data, so that it passes from the server to the browser. */
export type Display = z.output<typeof displaySchema>;

const preferencesSchema = displaySchema.extend({ appearance: z.enum(APPEARANCES) });
/** Everything that is kept of a reader's choices. */
export type Preferences = z.output<typeof preferencesSchema>;

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

/**
 * What was kept, over what stands unless told: a choice that is not on offer (an altered cookie, a unit that went)
 * counts as none, and the others hold.
 */
export function preferencesFrom(kept: unknown, otherwise: Preferences = DEFAULT_PREFERENCES): Preferences {
  const found: Record<string, unknown> = typeof kept === 'object' && kept !== null ? { ...kept } : {};
  const entries = Object.entries(preferencesSchema.shape).map(([key, schema]) => {
    const parsed = schema.safeParse(found[key]);
    return [key, parsed.success ? parsed.data : otherwise[key as keyof Preferences]];
  });
  return preferencesSchema.parse(Object.fromEntries(entries));
}

/** What a form sent, every choice of it on offer; the issues name the choice otherwise. */
export const parsePreferences = (sent: unknown) => preferencesSchema.safeParse(sent);

/** Consumption is the unit of a page; the other choices go by their own names. */
const ADDRESS_NAMES: Readonly<Record<keyof Display, string>> = {
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

/** The kept display with what the address says of it laid over: for this page only, nothing is kept. */
export function displayAt(display: Display, parameter: (name: string) => string | undefined): Display {
  const entries = Object.entries(ADDRESS_NAMES).map(([key, name]) => {
    const parsed = displaySchema.shape[key as keyof Display].safeParse(parameter(name));
    return [key, parsed.success ? parsed.data : display[key as keyof Display]];
  });
  return displaySchema.parse(Object.fromEntries(entries));
}

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
