import { gainPerRunOf, isJudgedByCars } from '@/lib/reduction/learning/gain';
import type { StoredRoadLoad } from '@/lib/reduction/learning/stored';
import { dateText } from '@/lib/run/localDate';
import type { WorldKey } from '@/lib/run/world';
import { adoptionOfModel } from '@/lib/store/methodVersions';
import { currentRoadLoad } from '@/lib/store/roadLoads';
import { labelInEffect } from '../method/methodInEffect';
import type { Registry } from '../registry';

export interface RoadLoadTerm {
  key: 'drag' | 'rolling' | 'auxiliary';
  prior: { value: number; u: number };
  posterior: { value: number; u: number };
}

export interface RoadLoadView {
  /** In effect in the model's world. */
  methodVersion: string;
  /** Where that version adjusts this model's runs by what it had learned; null where it uses the priors. */
  adopted: { label: string; on: string; runs: number } | null;
  /** Something was learned, but cannot be read any more. */
  isUnreadable: boolean;
  /** Null while the model has too few runs to learn from, and where what it learned cannot be read. */
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
export async function readRoadLoad(
  registry: Registry,
  model: { slug: string; world: WorldKey },
): Promise<RoadLoadView> {
  const [row, adoption, methodVersion] = await Promise.all([
    currentRoadLoad(registry.db, model.slug),
    adoptionOfModel(registry.db, model.slug),
    labelInEffect(registry.db, model.world),
  ]);
  const adopted = adoption && {
    label: adoption.methodVersion.label,
    on: dateText(adoption.methodVersion.adoptedAt),
    runs: adoption.runCount,
  };
  const stored = row?.result;
  if (row === null || stored === undefined) {
    return { methodVersion, adopted, learned: null, isUnreadable: row !== null };
  }
  const of = (belief: StoredRoadLoad['prior'], i: number) => ({
    value: belief.mean[i] ?? Number.NaN,
    u: Math.sqrt(belief.covariance[i]?.[i] ?? Number.NaN),
  });
  return {
    methodVersion,
    adopted,
    isUnreadable: false,
    learned: {
      ...stored,
      learnedAt: row.learnedAt.toISOString(),
      terms: TERMS.map((key, i) => ({ key, prior: of(stored.prior, i), posterior: of(stored.posterior, i) })),
      gainPerRun: gainPerRunOf(stored),
      beatsPriors: isJudgedByCars(stored) && stored.beatsPriors,
    },
  };
}
