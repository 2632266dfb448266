import { z } from 'zod';
import { storedBelief } from '@/lib/physics/stored';
import { valuesOf } from '@/lib/run/namedValues';
import { TYRE_KINDS, type TyreKind } from '@/lib/run/tyreKind';
import type { AdoptedRoadLoad } from '../adoptedTerms';
import type { Learning } from './learnFromRuns';
import type { LearningBasis } from './learningBasis';

/** What is kept of a learning, complete enough that a page only shows it. */
export interface StoredRoadLoad extends Learning {
  methodVersion: string;
  basis: LearningBasis<never>['kind'];
  tyreKind: TyreKind;
  setups: { slug: string; title: string; runs: number }[];
  /** Approved runs = used + left out, with the reason. */
  approvedRuns: number;
  leftOut: { reason: string; runs: number }[];
}

const finite = z.number();
const count = z.int().min(0);

const roadLoad: z.ZodType<StoredRoadLoad> = z.object({
  prior: storedBelief,
  posterior: storedBelief,
  runs: z.int().min(1),
  cars: count,
  sessions: count,
  spread: z.object({ car: finite, session: finite, residual: finite, from: z.string() }),
  // what was learned under the first version of the method was judged by single left-out runs
  leftOutCarsLogScore: finite.default(Number.NaN),
  priorLogScore: finite,
  beatsPriors: z.boolean(),
  massKg: finite,
  band: z.array(
    z.object({ speedMps: finite, consumptionWhPerKm: finite, uMeanWhPerKm: finite, uRunWhPerKm: finite }),
  ),
  points: z.array(z.object({ runNumber: count, cruiseSpeedMps: finite, consumptionWhPerKm: finite })),
  methodVersion: z.string(),
  basis: z.enum(['asDelivered', 'mostDriven']),
  tyreKind: z.enum(valuesOf(TYRE_KINDS)),
  setups: z.array(z.object({ slug: z.string(), title: z.string(), runs: count })),
  approvedRuns: count,
  leftOut: z.array(z.object({ reason: z.string(), runs: count })).default([]),
});

const levels = z.array(z.object({ factor: z.string(), levelId: z.string() }));

/** A model's learned road load; undefined where what is stored cannot be read. Never throws. */
export function readLearning(stored: unknown): StoredRoadLoad | undefined {
  return roadLoad.safeParse(stored).data;
}

/** What a method version keeps of a learning that it adopted; a level tells its kind of tyre itself, and never changes. */
export interface Adoption extends Pick<AdoptedRoadLoad, 'posterior'> {
  levels: { factor: string; levelId: string }[];
}

/** What a method version adopted for a model; undefined where it cannot be read: nothing is computed with a part of it. */
export function readAdoption(stored: Record<'posterior' | 'levels', unknown>): Adoption | undefined {
  return z.object({ posterior: storedBelief, levels }).safeParse(stored).data;
}
