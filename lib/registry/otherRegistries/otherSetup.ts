import { z } from 'zod';
import type { Row } from '@/lib/openData/column';
import { keyOf } from '@/lib/openData/other/kept';
import { otherDay } from '@/lib/openData/other/names';
import { type OtherRanked, otherRanked } from '@/lib/openData/other/ranked';
import { isFactorKey } from '@/lib/run/factors';
import { countOtherRows, otherRowsByKey, otherRowsFrom, otherRowsUnder } from '@/lib/store/otherRegistries';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';
import { heldAgainstDelivered, labelOf, otherFits, otherThings } from './otherRanking';
import { type OtherSource, readOther } from './others';

export interface OtherSetupView {
  source: OtherSource;
  title: string;
  model: string;
  /** What it changes from the model as delivered, factor by factor. */
  levels: { factor: string; levelId: string; isBaseline: boolean; shared: string | null }[];
  /** What their fit of each class says of it. */
  classes: { key: string; label: string; setup: OtherRanked; rankedOf: number }[];
  runs: Page<OtherRunListed> & { total: number };
}

export interface OtherRunListed {
  number: number;
  localDate: string;
  classLabel: string;
  counts: boolean;
  result: Row | undefined;
}

const PAGE_SIZE = 25;
/** Setups of one model, its baselines among them. */
const MOST_SETUPS = 500;

/** One setup of another registry; undefined where nothing of it is shown. */
export async function readOtherSetup(
  registry: Registry,
  query: { world: string; setupId: string; from?: string | undefined },
): Promise<OtherSetupView | undefined> {
  const other = z.uuid().safeParse(query.setupId).success
    ? await readOther(registry, query.world)
    : undefined;
  if (other === undefined) return undefined;
  const { snapshot, source } = other;
  const { setupId } = query;
  const [own] = await otherRowsByKey(registry.db, snapshot.id, 'setups', [setupId]);
  if (own === undefined) return undefined;
  // With those beside it, among which is the one that it is held against.
  const siblings = await otherRowsUnder(
    registry.db,
    snapshot.id,
    'setups',
    [String(own.model_id)],
    MOST_SETUPS,
  );
  const ids = [...new Set([setupId, ...siblings.map(({ setup_id }) => String(setup_id))])];
  const things = await otherThings(registry, snapshot.id, ids);
  const fits = await otherFits(registry, snapshot);
  const classes = await Promise.all(
    fits.map(async (fit) => {
      const key = String(fit.cruise_class);
      const estimates = await otherRowsByKey(
        registry.db,
        snapshot.id,
        'estimates',
        ids.map((id) => keyOf(key, id)),
      );
      const found = otherRanked(estimates, things).find((one) => one.setupId === setupId);
      if (found === undefined) return [];
      const [setup = found] = await heldAgainstDelivered(registry, snapshot.id, fit, [found]);
      const comparable = estimates.find(({ setup_id }) => setup_id === setupId)?.comparable;
      return [{ key, label: labelOf(key), setup, rankedOf: Number(comparable ?? 0) }];
    }),
  );
  const levels = things.levels.get(setupId) ?? [];
  const [names] = otherRanked([{ setup_id: setupId }], things);
  return {
    source,
    title: names?.title ?? setupId,
    model: names?.model ?? '',
    levels: levels
      .filter(({ factor }) => isFactorKey(String(factor)))
      .map(({ factor, level_id, is_baseline, shared_level }) => ({
        factor: String(factor),
        levelId: String(level_id),
        isBaseline: is_baseline === true,
        shared: typeof shared_level === 'string' ? shared_level : null,
      })),
    classes: classes.flat(),
    runs: await runsOf(registry, snapshot.id, setupId, query.from),
  };
}

async function runsOf(
  registry: Registry,
  snapshotId: string,
  setupId: string,
  from: string | undefined,
): Promise<OtherSetupView['runs']> {
  const of = { snapshotId, table: 'runs', under: setupId };
  const [page, total] = await Promise.all([
    readPage(from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.integer]),
      read: (place, take) => otherRowsFrom(registry.db, of, place && { ...place, key: place.key[0] }, take),
      keyOf: ({ place }) => [place],
    }),
    countOtherRows(registry.db, of),
  ]);
  const results = await otherRowsByKey(
    registry.db,
    snapshotId,
    'results',
    page.rows.map(({ row }) => String(row.run)),
  );
  const byRun = new Map(results.map((row) => [row.run, row]));
  return {
    ...page,
    total,
    rows: page.rows.map(({ row }) => ({
      number: Number(row.run),
      localDate: otherDay(row),
      classLabel: labelOf(String(row.cruise_class)),
      counts: row.counts === true,
      result: byRun.get(row.run),
    })),
  };
}
