import { z } from 'zod';
import type { Said } from './said';
import { isUnitCode, type UnitCode } from './unit';

/** The code of a unit, or nothing for a bare number, as stored beside a number. */
export const unitOrNone = z.custom<UnitCode | ''>(
  (unit) => typeof unit === 'string' && (unit === '' || isUnitCode(unit)),
);

const saidNumber = z.object({
  value: z.number(),
  to: z.number().exactOptional(),
  unit: unitOrNone,
  decimals: z.number().int().min(0).max(20),
  apart: z.array(z.number()).exactOptional(),
  symbol: z.string().exactOptional(),
});

/** A stored sentence with its numbers as data. */
export const saidSchema: z.ZodType<Said> = z.array(z.union([z.string(), saidNumber]));
