import { z } from 'zod';
import { readForm } from '@/lib/run/stored';
import type { Change } from './change';

/** What the column `change` of a correction may hold. Read whole or not at all: it is applied as it was reviewed. */
const value = z.union([z.string(), z.number(), z.boolean(), z.null()]);
const columns = z.record(z.string(), z.object({ before: value, after: value }));
const bearings = z.array(z.object({ bearingDeg: z.number(), share: z.number() }));
const directions = z.object({
  bearings,
  legs: z.array(z.object({ direction: z.string(), lengthM: z.number(), netClimbM: z.number(), bearings })),
});
const calibration = z.object({
  instrument: z.string(),
  factor: z.number(),
  standardUncertainty: z.number(),
  measuredOn: z.string(),
  odometerM: z.number().nullable(),
  invalidatedOn: z.string().nullable(),
  method: z.string(),
  note: z.string().nullable(),
  invalidatedReason: z.string().nullable(),
});
const form = z.record(z.string(), z.unknown()).transform(readForm);

const change = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('car'), columns }),
  z.object({ kind: z.literal('model'), columns }),
  z.object({
    kind: z.literal('loop'),
    columns,
    directions: z.object({ before: directions, after: directions }).nullable(),
  }),
  z.object({
    kind: z.literal('calibrations'),
    changes: z.array(
      z.object({
        id: z.string().nullable(),
        before: calibration.nullable(),
        after: calibration.nullable(),
      }),
    ),
  }),
  z.object({ kind: z.literal('run'), before: form, after: form }),
]);

/** Undefined where it cannot be read. Never throws. */
export function readChange(stored: unknown): Change | undefined {
  return change.safeParse(stored).data;
}
