import { z } from 'zod';
import type { PooledEffect } from './pooledEffect';

const finite = z.number();
/** Of rows that are looked up: the database throws on what is none. */
const id = z.uuid();
const count = z.int().min(0);
const ends = z.tuple([finite, finite]);

const pooled = z.object({
  groups: count,
  estimate: finite,
  se: finite.min(0),
  df: finite,
  betweenSd: finite.min(0),
  alone: ends,
  ofAll: ends,
  further: ends.nullable(),
  word: z.enum(['settled', 'leaning', 'undecided']),
  restsOnOne: z.boolean(),
}) satisfies z.ZodType<PooledEffect>;

/** Only which pair of setups stands for a model: its difference is the fit's own and is read with the fit. */
const modelPair = z.object({ modelId: id, baselineId: id, setupId: id });

const effect = z.object({
  factor: z.string(),
  baseline: z.object({ id: z.string(), words: z.string() }),
  level: z.object({ id: z.string(), words: z.string() }),
  /** Those with most to say, up to a bound. */
  models: z.array(modelPair),
  /** All there are. */
  of: count,
  pooled: pooled.nullable(),
});

const acrossModels = z.object({ version: z.literal(1), effects: z.array(effect) });

export type FactorEffectKept = z.infer<typeof effect>;
export type AcrossModels = z.infer<typeof acrossModels>;

/** What was concluded of a class's factors; undefined where it cannot be read. Never throws. */
export function readAcrossModels(stored: unknown): AcrossModels | undefined {
  return acrossModels.safeParse(stored).data;
}

const speedStep = z.object({
  slowKey: z.string(),
  fastKey: z.string(),
  models: z.array(
    z.object({
      modelId: id,
      setupId: id,
      /** That drove the setup in both classes. */
      cars: count,
      /** Null with too few cars. */
      effect: pooled.nullable(),
    }),
  ),
  of: count,
  pooled: pooled.nullable(),
});

const cruiseSpeeds = z.object({ version: z.literal(1), steps: z.array(speedStep) });

export type SpeedStepKept = z.infer<typeof speedStep>;
export type CruiseSpeeds = z.infer<typeof cruiseSpeeds>;

/** What was concluded of cruise speed; undefined where it cannot be read. Never throws. */
export function readCruiseSpeeds(stored: unknown): CruiseSpeeds | undefined {
  return cruiseSpeeds.safeParse(stored).data;
}
