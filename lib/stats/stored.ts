import { z } from 'zod';
import type { GroupFit } from './groupFit';
import type { KeptSpread, RankedRuns, SetupStanding } from './modelStanding';
import type { FixedEffects } from './prediction';
import type { FitBasis } from './publishedFit';

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
  spreadRatio: degrees.default(1),
  dfTerms: z.object({ sensitivities: matrix, componentCovariance: matrix }).nullable().catch(null),
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

const basis: z.ZodType<FitBasis> = z.object({
  minimumCounts: z.object({ runs: count, sessions: count, cars: count }),
  pooledCarLoop: z.object({ variance, varianceOfVariance: variance, from: z.string() }).nullable(),
  clusters: z.array(z.array(z.string()).min(2)),
  unvouched: z.array(z.string()),
});

/**
 * What a fit was made with beside its runs; undefined where it kept none, or where it cannot be read: with a part of it
 * another fit would come out.
 */
export function readFitBasis(stored: unknown): FitBasis | undefined {
  return basis.safeParse(stored).data;
}

const missing = z.object({ what: z.enum(['runs', 'sessions', 'cars', 'vouched']), have: count, need: count });

/** What keeps an estimate from being ranked, as far as it can be read. Never throws. */
export function readMissing(stored: unknown): z.output<typeof missing>[] {
  if (!Array.isArray(stored)) return [];
  return stored.flatMap((one) => missing.safeParse(one).data ?? []);
}

const heldPlace = z.object({
  restsOn: z.array(z.string()).catch([]),
  without: z
    .object({ testers: z.array(z.string()), lower: count, upper: count })
    .nullable()
    .catch(null),
});

/** What of a setup's place hangs on one cluster of testers, by their accounts. */
export type HeldPlace = z.output<typeof heldPlace>;

/** From the column `details` of an estimate. Never throws. */
export function readHeldPlace(stored: unknown): HeldPlace {
  return heldPlace.safeParse(stored).data ?? { restsOn: [], without: null };
}

const verdict = z.enum(['consistent', 'straggler', 'outlier']);
const judged = z.object({ value: finite, verdict });
const critical = z.object({ straggler: finite, outlier: finite });
const levels = z.object({ stragglerLevel: finite, outlierLevel: finite });
const deviation = z.object({
  effect: finite,
  low: finite,
  high: finite,
  runs: count,
  meanWhPerKm: finite,
  fromEstimate: finite,
  believedWhPerKm: finite,
});

const keptSpread = z.object({
  cars: z.array(
    deviation.extend({
      key: z.string(),
      carId: z.string(),
      loopId: z.string().nullable(),
      kept: finite,
      sessions: z.array(deviation.extend({ sessionId: z.string() })),
    }),
  ),
  of: z.object({ cars: count, sessions: count }),
  screening: z.discriminatedUnion('by', [
    z.object({
      by: z.literal('iso5725'),
      levels,
      runsEach: count,
      cars: z.array(z.object({ key: z.string(), runs: count, h: judged.nullable(), k: judged.nullable() })),
      criticalH: critical,
      criticalK: critical,
      extremes: z.array(
        judged.extend({
          test: z.enum(['cochran', 'grubbsHigh', 'grubbsLow']),
          critical,
          key: z.string(),
        }),
      ),
      carCount: count,
    }),
    z.object({
      by: z.literal('residuals'),
      levels,
      reason: z.enum(['fewCars', 'singleRuns', 'unequalCounts']),
      runs: z.array(z.object({ number: count, studentised: finite, p: finite, pHolm: finite, verdict })),
      runCount: count,
      flaggedCount: count,
    }),
  ]),
});

const rankedRuns = z.object({
  count,
  shown: z.array(z.object({ number: count, normalisedWhPerKm: finite })),
});

const setupStanding = z.object({
  ofSetup: rankedRuns,
  others: rankedRuns,
  cars: count,
  sessions: count,
  meanLog: finite,
});

const effects = z.object({
  setups: z.array(z.string()),
  beta: z.array(finite),
  covariance: matrix,
  runs: count,
  quadratic: finite,
});

/** What a fit kept for the page of a setup; undefined where it cannot be read. */
export function readKeptSpread(stored: unknown): KeptSpread | undefined {
  return keptSpread.safeParse(stored).data;
}

/** Where the runs of a setup lie; undefined where it cannot be read. */
export function readSetupStanding(stored: unknown): SetupStanding | undefined {
  return setupStanding.safeParse(stored).data;
}

/** Where all runs of a model lie; undefined where it cannot be read. */
export function readRankedRuns(stored: unknown): RankedRuns | undefined {
  return rankedRuns.safeParse(stored).data;
}

/** A model's setups by the fit; undefined where there is none or it cannot be read. */
export function readEffects(stored: unknown): FixedEffects | undefined {
  return effects.safeParse(stored).data;
}
