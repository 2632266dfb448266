import type { WorldKey } from '@/lib/run/world';
import { percentOf } from '@/lib/stats/orientedContrast';
import { type SessionPair, sessionPairs } from '@/lib/stats/sessionPairs';
import { pairedSessions } from '@/lib/store/pairedRuns';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';
import { readPublicRuns } from '../runs/publicRuns';

/** Sessions in which a setup was driven beside the baseline. */
export interface PairsShown {
  /** The latest, the earliest of them first. */
  latest: SessionPair[];
  /** All there are, and those in which the setup used less. */
  total: number;
  lower: number;
  /** A quarter of all lies below the first, half below the second, a quarter above the third, %. */
  quartilesPercent: number[];
}

export const NO_PAIRS: PairsShown = { latest: [], total: 0, lower: 0, quartilesPercent: [] };

const MOST_PAIRS = 50;
/** Of 50 sessions: forty each would be more than a day holds. */
const MOST_PAIRED_RUNS = 2000;

/** By setup; pairs are drawn one by one up to a bound and counted by the database beyond it. */
export async function readPairs(
  registry: Registry,
  group: { cruiseClassKey: string; world: WorldKey },
  baselineId: string,
  setupIds: readonly string[],
): Promise<Map<string, PairsShown>> {
  const methodVersion = await shownLabel(registry.db, group.world);
  const found = new Map<string, PairsShown>();
  for (const setupId of setupIds) {
    const of = { ...group, methodVersion, baselineId, setupId };
    const { sessionIds, total, lower, quartilesLog } = await pairedSessions(registry.db, of, MOST_PAIRS);
    if (total === 0) continue;
    const filter = { setupIds: [baselineId, setupId], sessionIds, ...group };
    const runs = await readPublicRuns(registry, filter, MOST_PAIRED_RUNS);
    found.set(setupId, {
      latest: sessionPairs(runs, baselineId, setupId),
      total,
      lower,
      quartilesPercent: (quartilesLog ?? []).map(percentOf),
    });
  }
  return found;
}
