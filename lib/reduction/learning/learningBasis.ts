import { leavesRoadLoad } from '@/lib/run/factors';
import { type TyreKind, tyreKindOf } from '@/lib/run/tyreKind';

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
  return {
    kind: 'mostDriven',
    runs: own,
    tyreKind: tyreKindOf(...(own[0]?.levels ?? []).map((level) => level.tyreKind), deliveredTyreKind),
  };
}
