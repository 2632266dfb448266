import { countedRow } from '@/lib/reduction/countedRow';
import { type WorldKey, worldKey } from '@/lib/run/world';
import {
  countedLabelOf,
  lockRuns,
  placeCountedLabel,
  replaceCounted,
  type ShownLabel,
  wideResults,
} from '@/lib/store/countedRuns';
import type { Database, Queryable } from '@/lib/store/database';
import { isHeld } from '@/lib/store/holds';
import { labelInEffect } from '../method/methodInEffect';

/**
 * Makes an approved run count, in the transaction that approves it: under the version that its world shows, and under
 * the one in effect where that is another. Where the run has no result under one yet, it counts without a number until
 * it is recomputed. While it is held it does not count.
 */
export async function countRun(tx: Queryable, run: { id: string; world: string }, at: Date): Promise<void> {
  await lockRuns(tx, [run.id]);
  if (await isHeld(tx, run.id)) return;
  const world = worldKey(run.world);
  const inEffect = await labelInEffect(tx, world);
  await placeCountedLabel(tx, { world, methodVersion: inEffect, since: at });
  const shown = (await countedLabelOf(tx, world)) ?? inEffect;
  for (const methodVersion of new Set([shown, inEffect])) {
    const [wide] = await wideResults(tx, methodVersion, { runIds: [run.id] });
    if (wide === undefined) throw new Error(`run ${run.id} is not approved, so it cannot count`);
    await replaceCounted(tx, [countedRow(wide, methodVersion)]);
  }
}

/** After a recomputation, in its transaction and with the run locked: nothing where the run does not count. */
export async function recountRun(tx: Queryable, runId: string, methodVersion: string): Promise<void> {
  const [wide] = await wideResults(tx, methodVersion, { runIds: [runId] });
  if (wide === undefined || wide.computedAt === null) return;
  await replaceCounted(tx, [countedRow(wide, methodVersion)]);
}

/** The same of many at once, locked as well: of those of a world that count. */
export async function recountRuns(tx: Queryable, runIds: readonly string[], of: ShownLabel): Promise<void> {
  const wide = await wideResults(tx, of.methodVersion, { runIds }, runIds.length);
  await replaceCounted(
    tx,
    wide.flatMap((one) =>
      one.world === of.world && one.computedAt !== null ? [countedRow(one, of.methodVersion)] : [],
    ),
  );
}

const BATCH = 200;

/** Writes the rows that a version lacks, in batches of their own; broken off and started again it goes on. Returns how many. */
export async function fillCounted(db: Database, world: WorldKey, methodVersion: string): Promise<number> {
  let filled = 0;
  for (;;) {
    const rows = await db.$transaction(async (tx) => {
      const seen = await wideResults(tx, methodVersion, { world, onlyMissing: true }, BATCH);
      await lockRuns(
        tx,
        seen.map(({ runId }) => runId),
      );
      // read again under the lock: one of them may have been retracted since
      const missing = await wideResults(tx, methodVersion, { world, onlyMissing: true }, BATCH);
      const locked = new Set(seen.map(({ runId }) => runId));
      const still = missing.filter(({ runId }) => locked.has(runId));
      await replaceCounted(
        tx,
        still.map((wide) => countedRow(wide, methodVersion)),
      );
      return seen.length;
    });
    filled += rows;
    if (rows === 0) return filled;
  }
}
