import { METHOD_VERSION } from '@/lib/physics/normalise';
import { currentRoadLoad } from '@/lib/store/roadLoads';
import type { Registry } from '../registry';
import type { StoredRoadLoad } from '../roadLoads/learnRoadLoad';

export interface RoadLoadTerm {
  key: 'drag' | 'rolling' | 'auxiliary';
  prior: { value: number; u: number };
  posterior: { value: number; u: number };
}

export interface RoadLoadView {
  /** Under which the adjustments use the priors. */
  methodVersion: string;
  /** Null while the model has too few runs to learn from. */
  learned:
    | (StoredRoadLoad & {
        learnedAt: string;
        terms: RoadLoadTerm[];
        /** How much better a run is predicted from the others than from the priors, natural log units a run. */
        gainPerRun: number;
      })
    | null;
}

const TERMS = ['drag', 'rolling', 'auxiliary'] as const;

/** What a model's own runs say about its road load, for its page. */
export async function readRoadLoad(registry: Registry, modelSlug: string): Promise<RoadLoadView> {
  const row = await currentRoadLoad(registry.db, modelSlug);
  if (row === null) return { methodVersion: METHOD_VERSION, learned: null };
  const stored = readStored(row.result);
  const of = (belief: StoredRoadLoad['prior'], i: number) => ({
    value: belief.mean[i] ?? Number.NaN,
    u: Math.sqrt(belief.covariance[i]?.[i] ?? Number.NaN),
  });
  return {
    methodVersion: METHOD_VERSION,
    learned: {
      ...stored,
      learnedAt: row.learnedAt.toISOString(),
      terms: TERMS.map((key, i) => ({ key, prior: of(stored.prior, i), posterior: of(stored.posterior, i) })),
      gainPerRun: (stored.leaveOneOutLogScore - stored.priorLogScore) / stored.runs,
    },
  };
}

/** As the learning wrote it, through JSON. */
function readStored(result: unknown): StoredRoadLoad {
  return result as StoredRoadLoad;
}
