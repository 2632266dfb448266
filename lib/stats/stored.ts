import { z } from 'zod';
import type { GroupFit } from './groupFit';

/** The part of a fit that belongs to the group as a whole. */
export type FitSummary = Omit<GroupFit, 'estimates' | 'contrasts' | 'ranks' | 'excluded'> & {
  excluded: { runId?: string | undefined; reason: string }[];
  /** Approved, but outside the method's reach. */
  notNormalised: number;
  /** Too few cars drove two loops: it uses a pooled variance where there is one, and hangs on other classes' runs. */
  usesPooled: boolean;
};

/** What a page says where a fit is there but its summary cannot be read. */
export const UNREADABLE_SUMMARY =
  'What was kept of this fit as a whole can no longer be read. The next fit of the class replaces it.';

const finite = z.number();
const count = z.int().min(0);
const variance = finite.min(0);
const words = z.array(z.string()).default([]);
const matrix = z.array(z.array(finite));
/** An infinite number has no JSON and was written as null. */
const degrees = finite.nullable().transform((value) => value ?? Number.POSITIVE_INFINITY);
const origin = z.enum(['own', 'pooled', 'moderated', 'assumed', 'none']);

const criticalValue = z.object({
  value: finite,
  monteCarloError: finite,
  method: z.enum(['max-t', 'sidak', 'single']),
  df: degrees,
  pairs: count,
});

const summary = z.object({
  nIn: count,
  nUsed: count,
  setups: z.array(z.string()),
  components: z.object({
    car: variance,
    carLoop: variance.default(0),
    session: variance,
    residual: variance,
  }),
  origins: z.object({ car: origin, carLoop: origin, session: origin, residual: origin }).optional(),
  /** Of the first method: all components at once. */
  pooled: z.boolean().default(false),
  componentCovariance: matrix.catch([]),
  cars: count.default(0),
  carsOnTwoLoops: count.default(0),
  pooledFrom: z.string().nullable().default(null),
  unidentified: words,
  notes: words,
  remlCriterion: finite.nullable().catch(null),
  converged: z.boolean(),
  evaluations: count.default(0),
  boundary: words,
  dfMethod: z.enum(['kenward-roger', 'satterthwaite', 'known', 'none']),
  residualDf: finite,
  replicatedCells: count.default(0),
  covariance: matrix.catch([]),
  sharedEffects: z
    .array(
      z.object({
        key: z.string(),
        scope: z.enum(['session', 'car', 'model', 'method']),
        effects: z.array(finite),
      }),
    )
    .catch([]),
  criticalValue: criticalValue.nullable().catch(null),
  modelCriticalValues: z.array(criticalValue.extend({ model: z.string() })).catch([]),
  connectivity: z.object({
    bySession: z.array(z.array(z.string())),
    byCar: z.array(z.array(z.string())),
  }),
  repeatability: z
    .object({ sr: finite, sR: finite, r: finite, R: finite, meanKnownVariance: finite })
    .nullable()
    .catch(null),
  excluded: z.array(z.object({ runId: z.string().optional(), reason: z.string() })).default([]),
  seed: finite,
  level: finite,
  notNormalised: count.default(0),
  usesPooled: z.boolean().default(false),
});

/**
 * A summary as a fit wrote it; undefined where it cannot be read, and never a throw. Fits of the first method had no
 * level of a car on a loop: what they call the variance between cars is of a car on a loop, and stays one number.
 */
export function readFitSummary(stored: unknown): FitSummary | undefined {
  const { data } = summary.safeParse(stored);
  if (data === undefined) return undefined;
  const { pooled, origins, ...read } = data;
  const own = pooled ? 'pooled' : 'own';
  return { ...read, origins: origins ?? { car: own, carLoop: 'none', session: own, residual: own } };
}

const missing = z.object({ what: z.enum(['runs', 'sessions', 'cars']), have: count, need: count });

/** What keeps an estimate from being ranked, as far as it can be read. Never throws. */
export function readMissing(stored: unknown): z.output<typeof missing>[] {
  if (!Array.isArray(stored)) return [];
  return stored.flatMap((one) => missing.safeParse(one).data ?? []);
}
