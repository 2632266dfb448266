import { z } from 'zod';
import {
  ADDRESS_NAMES,
  APPEARANCES,
  DECIMAL_MARKS,
  DEFAULT_PREFERENCES,
  type Display,
  type Preferences,
  UNIT_CHOICES,
} from './display';

const displaySchema = z.object({
  consumption: z.enum(UNIT_CHOICES.consumption),
  distance: z.enum(UNIT_CHOICES.distance),
  height: z.enum(UNIT_CHOICES.height),
  wind: z.enum(UNIT_CHOICES.wind),
  temperature: z.enum(UNIT_CHOICES.temperature),
  tyrePressure: z.enum(UNIT_CHOICES.tyrePressure),
  airPressure: z.enum(UNIT_CHOICES.airPressure),
  mass: z.enum(UNIT_CHOICES.mass),
  mark: z.enum(DECIMAL_MARKS),
});

const preferencesSchema = displaySchema.extend({ appearance: z.enum(APPEARANCES) });

/** What a form sent, every choice of it on offer; the issues name the choice otherwise. */
export const parsePreferences = (sent: unknown) => preferencesSchema.safeParse(sent);

/**
 * What was kept, over what stands unless told: a choice that is not on offer (an altered cookie, a unit that went)
 * counts as none, and the others hold.
 */
export function preferencesFrom(kept: unknown): Preferences {
  const found: Record<string, unknown> = typeof kept === 'object' && kept !== null ? { ...kept } : {};
  const entries = Object.entries(preferencesSchema.shape).map(([key, schema]) => {
    const parsed = schema.safeParse(found[key]);
    return [key, parsed.success ? parsed.data : DEFAULT_PREFERENCES[key as keyof Preferences]];
  });
  return preferencesSchema.parse(Object.fromEntries(entries));
}

/** The kept display with what the address says of it laid over: for this page only, nothing is kept. */
export function displayAt(display: Display, parameter: (name: string) => string | undefined): Display {
  const entries = Object.entries(displaySchema.shape).map(([key, schema]) => {
    const parsed = schema.safeParse(parameter(ADDRESS_NAMES[key as keyof Display]));
    return [key, parsed.success ? parsed.data : display[key as keyof Display]];
  });
  return displaySchema.parse(Object.fromEntries(entries));
}
