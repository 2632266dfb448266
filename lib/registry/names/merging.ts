import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { worldKey } from '@/lib/run/world';
import { openCorrectionOf } from '@/lib/store/corrections';
import type { Queryable } from '@/lib/store/database';
import {
  type Conclusion,
  conclusionsOf,
  countedFollow,
  countedUnder,
  type Hanging,
  type HangingRuns,
  hangingRuns,
  lockRunsOf,
} from '@/lib/store/merging';
import { recountRuns } from '../counted/countRun';
import { enqueueConclusions } from '../rankings/enqueueConclusions';

/** Each run is counted anew in the one transaction. */
export const PATIENT = { timeout: 180_000, maxWait: 10_000 };

/** What would move from one entry to another, and what keeps it from being done. */
export interface MergePreview extends HangingRuns {
  from: { key: string; words: string };
  into: { key: string; words: string };
  /** The classes that are fitted again. */
  classes: string[];
  /** Days of a car on a loop, and those of them that both know and that become one. */
  sessions?: number;
  joined?: number;
  /** Of a model: what moves with it. */
  cars?: number;
  studies?: number;
  /** Levels that the one that stays has already, and those that it gets. */
  levels?: { joined: string[]; moved: string[] };
  /** Setups that stay ones of their own, and those that become one that is there. */
  setups?: { joined: string[]; moved: string[] };
  /** Of a car of two testers: whose runs count as of one vehicle from then on. */
  owners?: readonly [string, string];
  /** Why it cannot be done; undefined where it can. */
  refusal: string | undefined;
}

export async function previewRuns(
  db: Queryable,
  of: Hanging,
): Promise<Pick<MergePreview, 'runs' | 'counted' | 'classes'>> {
  const [hanging, conclusions] = await Promise.all([hangingRuns(db, of), conclusionsOf(db, of)]);
  const keys = new Set(conclusions.map(({ cruiseClassKey }) => cruiseClassKey));
  return { ...hanging, classes: [...keys].map((key) => cruiseClassByKey(key)?.label ?? key) };
}

export interface MovingRuns {
  runIds: string[];
  conclusions: Conclusion[];
}

/** Before anything moves: the runs that will, held until the transaction ends, and what was concluded from them. */
export async function holdMoving(tx: Queryable, of: Hanging): Promise<MovingRuns> {
  const runIds = await lockRunsOf(tx, of);
  return { runIds, conclusions: await conclusionsOf(tx, of) };
}

/**
 * After everything moved. What a run has in common with others is keyed by the things that it was driven with: counted
 * anew from the stored results, and concluded anew, of the model that it moved to as well.
 */
export async function followMoved(
  tx: Queryable,
  { runIds, conclusions }: MovingRuns,
  at: Date,
  intoModelId?: string,
): Promise<void> {
  await countedFollow(tx, runIds);
  for (const { world, methodVersion } of await countedUnder(tx, runIds))
    await recountRuns(tx, runIds, { world: worldKey(world), methodVersion });
  for (const conclusion of conclusions) {
    await enqueueConclusions(tx, conclusion, at);
    if (intoModelId !== undefined)
      await enqueueConclusions(tx, { ...conclusion, setup: { modelId: intoModelId } }, at);
  }
}

/** What is proposed of either has to be decided on first: it was computed from what hangs where now. */
export async function openCorrectionRefusal(
  db: Queryable,
  things: readonly { id: string; words: string }[],
): Promise<string | undefined> {
  for (const { id, words } of things) {
    const open = await openCorrectionOf(db, id);
    if (open !== null) return `Correction ${open.number} of ${words} is not decided yet.`;
  }
  return undefined;
}
