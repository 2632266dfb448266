import { z } from 'zod';
import { saidSchema } from '@/lib/units/saidSchema';
import { type NormalisationCase, normalisationCaseSchema } from './caseSchema';
import { statedCurve, type TaperPoint } from './estimate/taper';
import { INPUT_NAMES, RETIRED_INPUT_NAMES } from './inputs';
import type { RoadLoadBelief } from './learned';
import { type NormalisationResult, STEP_NAMES } from './normalise';
import { REACH_CODES } from './reach';
import type { ReconciledEnergy } from './reconcile';

/**
 * What this room's stored JSON may look like. A reader never throws: undefined is what cannot be read, and the page or
 * the message says so. An infinite number has no JSON and was written as null.
 */
const finite = z.number();
const perhapsInfinite = finite.nullable().transform((value) => value ?? Number.POSITIVE_INFINITY);

const measured = z.object({
  methodVersion: z.string(),
  measuredWhPerKm: finite,
  uMeasuredWhPerKm: finite,
  reference: z.object({
    cruiseSpeedMps: finite,
    airDensityKgM3: finite,
    airTemperatureC: finite,
    auxiliaryPowerW: finite,
  }),
  findings: z
    .array(z.object({ code: z.enum(['durationTooShort', 'durationTooLong']), message: z.string() }))
    .default([]),
});

const normalised = measured.extend({
  outcome: z.literal('normalised'),
  reach: z.object({ ok: z.literal(true) }),
  normalisedWhPerKm: finite,
  scale: finite,
  scaleFinding: z.object({ level: z.enum(['caution', 'fail']), message: z.string() }).nullable(),
  steps: z.array(
    z.object({ name: z.enum(STEP_NAMES), deltaWhPerKm: finite, factor: finite, uWhPerKm: finite }),
  ),
  budget: z.array(
    z.object({
      input: z.enum([...INPUT_NAMES, ...RETIRED_INPUT_NAMES]),
      label: z.string(),
      unit: z.string(),
      value: finite,
      u: finite,
      dof: finite.nullable(),
      distribution: z.enum(['normal', 'rectangular', 'triangular']),
      scope: z.enum(['run', 'session', 'car', 'model', 'method']),
      sensitivity: finite,
      contributionWhPerKm: finite,
      shareOfVariance: finite,
    }),
  ),
  correlations: normalisationCaseSchema.shape.correlations,
  uWhPerKm: finite,
  relativeUncertainty: finite,
  effectiveDof: perhapsInfinite,
  interval95: z.tuple([finite, finite]),
  uByScope: z.object({
    run: finite,
    session: finite,
    car: finite,
    model: finite,
    method: finite.exactOptional(),
  }),
});

const outsideReach = measured.extend({
  outcome: z.literal('outsideReach'),
  reach: z.object({
    ok: z.literal(false),
    reasons: z.array(
      z.object({ code: z.enum(REACH_CODES), message: z.string(), said: saidSchema.optional() }),
    ),
  }),
});

/** The engine's result, for the results that are stored with more beside it. */
export const storedNormalisation: z.ZodType<NormalisationResult> = z.discriminatedUnion('outcome', [
  normalised,
  outsideReach,
]);

/** Readings of one energy brought together, for the results that are stored with more beside it. */
export const storedEnergy: z.ZodType<ReconciledEnergy> = z.object({
  energyWh: finite,
  uWh: finite,
  uInternalWh: finite,
  chiSquare: finite,
  dof: finite,
  pValue: finite,
  birgeRatio: finite.nullable(),
  readings: z.array(
    z.object({
      label: z.string(),
      energyWh: finite,
      uWh: finite,
      standardisedResidual: finite,
      // the first version of the method averaged all readings and told none apart
      isCounter: z.boolean().default(true),
      isAveraged: z.boolean().default(true),
    }),
  ),
  disagreeing: z.object({ label: z.string(), standardisedResidual: finite }).nullable(),
});

const TERMS = 3;

/** Means and covariance of (CdA/η, Crr/η, P_aux): three of each, or it is none. */
export const storedBelief: z.ZodType<RoadLoadBelief> = z.object({
  mean: z.array(finite).length(TERMS),
  covariance: z.array(z.array(finite).length(TERMS)).length(TERMS),
});

/** What the engine was given. Read as strictly as it was written: it is computed on again. */
export function readCase(stored: unknown): NormalisationCase | undefined {
  return normalisationCaseSchema.safeParse(stored).data;
}

export function readNormalisation(stored: unknown): NormalisationResult | undefined {
  return storedNormalisation.safeParse(stored).data;
}

const chargingPoints = z
  .array(z.object({ charge: finite, powerW: finite }))
  .refine((points) => points.length === 0 || isCurve(points));

function isCurve(points: readonly TaperPoint[]): boolean {
  try {
    return statedCurve(points).points.length > 0;
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}

/** Points of a stated charging curve, whole or not at all; none where a peak alone was stated. */
export function readChargingPoints(stored: unknown): TaperPoint[] | undefined {
  return chargingPoints.safeParse(stored).data;
}
