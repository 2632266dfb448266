import { normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { VEHICLE_PRIORS } from '@/lib/physics/priors';
import { gainPerRunOf, isJudgedByCars } from '@/lib/reduction/learning/gain';
import type { StoredRoadLoad } from '@/lib/reduction/learning/stored';
import { leavesRoadLoad } from '@/lib/run/factors';
import type { WorldKey } from '@/lib/run/world';
import type { Queryable } from '@/lib/store/database';
import { learnedOfWorld, levelsOfSetups } from '@/lib/store/methodVersions';

type LearnedRow = Awaited<ReturnType<typeof learnedOfWorld>>[number];

/** What a model has learned, and whether a method version may use it. */
export interface Candidate {
  learnedId: string;
  model: LearnedRow['model'];
  learnedAt: Date;
  runs: number;
  /** Log score over left-out cars less that of the priors, natural log units a run. */
  gainPerRun: number;
  road: StoredRoadLoad;
  /** Levels other than as delivered of the setup it was learned from, of the factors that change a road load. */
  levels: { factor: string; levelId: string }[];
  /** Why it stays with its priors; null where it may be adopted. */
  refusal: string | null;
}

/** Every model of a world that has learned something, whether it may be adopted or not. */
export async function candidatesOf(db: Queryable, world: WorldKey): Promise<Candidate[]> {
  const rows = await learnedOfWorld(db, world);
  const slugs = rows.flatMap(({ road }) =>
    road.basis === 'mostDriven' ? road.setups.map((s) => s.slug) : [],
  );
  const setups = new Map((await levelsOfSetups(db, slugs)).map((setup) => [setup.slug, setup.levels]));
  return rows.map(({ road, ...row }) => {
    const basis = road.basis === 'mostDriven' ? (setups.get(road.setups[0]?.slug ?? '') ?? []) : [];
    return {
      learnedId: row.id,
      model: row.model,
      learnedAt: row.learnedAt,
      runs: row.runCount,
      gainPerRun: gainPerRunOf(road),
      road,
      levels: basis
        .filter(({ factor, level }) => !level.isBaseline && !leavesRoadLoad(factor))
        .map(({ factor, level }) => ({ factor, levelId: level.id })),
      refusal: refusalOf(row.beatsPriors, road),
    };
  });
}

function refusalOf(beatsPriors: boolean, road: StoredRoadLoad): string | null {
  if (!isJudgedByCars(road))
    return 'it was judged under an earlier version of the method and waits to be learned again';
  if (road.cars < 2) return 'one car cannot stand for its model';
  if (!beatsPriors) return 'its cars do not predict each other better than the priors do';
  return isPossible(road) ? null : 'its values are not possible for a car';
}

/** Within what the engine takes: a few odd runs can pull a posterior below zero. */
function isPossible({ posterior: { mean, covariance } }: StoredRoadLoad): boolean {
  const { vehicle } = normalisationCaseSchema.shape;
  const efficiency = VEHICLE_PRIORS.efficiency.value;
  const { success } = vehicle.safeParse({
    massKg: 2000,
    dragAreaM2: (mean[0] ?? 0) * efficiency,
    rollingCoefficient: (mean[1] ?? 0) * efficiency,
  });
  return success && (covariance[0]?.[0] ?? 0) > 0 && (covariance[1]?.[1] ?? 0) > 0;
}
