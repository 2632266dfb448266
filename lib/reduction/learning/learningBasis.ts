import type { TyreKind } from '@/lib/physics/priors';

/** What of an approved run decides whether a model's road load is learned from it. */
export interface BasisRun {
  setupId: string;
  levels: readonly { factor: string; isBaseline: boolean; tyreKind: string | null }[];
}

export interface LearningBasis<Run> {
  /** Setups with drag, tyres and drive as delivered; or, where there is no run of one, the setup with most runs. */
  kind: 'asDelivered' | 'mostDriven';
  runs: Run[];
  tyreKind: TyreKind;
}

/** Load and climate change what is known of a run; every other factor changes the road load itself. */
const LEAVES_ROAD_LOAD: ReadonlySet<string> = new Set(['load', 'cabinClimate']);

export function leavesRoadLoad(factor: string): boolean {
  return LEAVES_ROAD_LOAD.has(factor);
}

export function learningBasis<Run extends BasisRun>(
  runs: readonly Run[],
  deliveredTyreKind: TyreKind,
): LearningBasis<Run> {
  const delivered = runs.filter((run) =>
    run.levels.every((level) => level.isBaseline || leavesRoadLoad(level.factor)),
  );
  if (delivered.length > 0) return { kind: 'asDelivered', runs: delivered, tyreKind: deliveredTyreKind };
  const counts = new Map<string, number>();
  for (const { setupId } of runs) counts.set(setupId, (counts.get(setupId) ?? 0) + 1);
  // of equal counts the first in order of id, so that the same runs always give the same setup
  const [most] = [...counts].sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1));
  const own = runs.filter((run) => run.setupId === most?.[0]);
  const tyres = own[0]?.levels.find((level) => level.tyreKind !== null)?.tyreKind;
  return {
    kind: 'mostDriven',
    runs: own,
    tyreKind: tyres === 'allTerrain' ? 'allTerrain' : tyres === 'road' ? 'road' : deliveredTyreKind,
  };
}
