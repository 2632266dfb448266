import type { Row } from '@/lib/openData/column';
import { keyOf } from '@/lib/openData/other/kept';
import {
  type OtherRanked,
  type OtherThings,
  otherAgainst,
  otherContrast,
  otherRanked,
} from '@/lib/openData/other/ranked';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { WorldKey } from '@/lib/run/world';
import {
  otherRowsByKey,
  otherRowsUnder,
  type StoredOtherSnapshot,
  undecidedOthers,
} from '@/lib/store/otherRegistries';
import type { ClassChoice } from '../comparisons/comparisonWorld';
import { groupsOf, inGroups, type RankingGroup } from '../rankings/rankingGroups';
import { pageOfRanked } from '../rankings/rankings';
import type { Registry } from '../registry';
import { type OtherSource, readOther } from './others';

export interface OtherRankingView {
  source: OtherSource;
  group: { cruiseClassKey: string; world: WorldKey };
  classLabel: string;
  classes: ClassChoice[];
  fittedAt: string;
  runCount: number;
  converged: boolean;
  rankedOf: number;
  ranked: OtherRanked[];
  groups: RankingGroup[];
  pages: { before: number; total: number; previous: string | undefined; next: string | undefined };
  /** The first of so many. */
  notRanked: OtherRanked[];
  notRankedOf: number;
}

/** More than a fit is made of in any reasonable time. */
const MOST_ESTIMATES = 2000;
const MOST_LEVELS = 8;
const MOST_NOT_RANKED = 100;
/** There are ten classes. */
const MOST_FITS = 20;

/** The ranking of one class as another registry published it; undefined where nothing of it is shown. */
export async function readOtherRanking(
  registry: Registry,
  query: { world: string; classKey?: string | undefined; from?: string | undefined },
): Promise<OtherRankingView | undefined> {
  const other = await readOther(registry, query.world);
  if (other === undefined) return undefined;
  const { snapshot, source } = other;
  const fits = await otherFits(registry, snapshot);
  const fit = fits.find((one) => one.cruise_class === query.classKey) ?? largestOf(fits);
  if (fit === undefined) return undefined;
  const cruiseClassKey = String(fit.cruise_class);
  const estimates = await otherRowsUnder(
    registry.db,
    snapshot.id,
    'estimates',
    [cruiseClassKey],
    MOST_ESTIMATES,
  );
  const ids = estimates.map(({ setup_id }) => String(setup_id));
  const all = inGroups(otherRanked(estimates, await otherThings(registry, snapshot.id, ids)), 'model');
  const { rows: page, ...pages } = await pageOfRanked(
    all.filter(({ isRanked }) => isRanked),
    query.from,
  );
  const waiting = all.filter(({ isRanked }) => !isRanked);
  const against = await heldAgainstDelivered(registry, snapshot.id, fit, [
    ...page,
    ...waiting.slice(0, MOST_NOT_RANKED),
  ]);
  const ranked = against.slice(0, page.length);
  const undecided = await undecidedOthers(
    registry.db,
    { snapshotId: snapshot.id, cruiseClassKey },
    ranked.map(({ setupId }) => setupId),
  );
  return {
    source,
    group: { cruiseClassKey, world: source.world },
    classLabel: labelOf(cruiseClassKey),
    classes: fits.map((one) => ({
      key: String(one.cruise_class),
      label: labelOf(String(one.cruise_class)),
      runs: Number(one.runs_used),
    })),
    fittedAt: String(fit.fitted_at),
    runCount: Number(fit.runs_used),
    converged: fit.converged === true,
    rankedOf: all.filter(({ rankLower }) => rankLower !== null).length,
    ranked,
    groups: groupsOf(ranked, 'model', undecided),
    pages,
    notRanked: against.slice(page.length),
    notRankedOf: waiting.length,
  };
}

/** Those with runs, in the order of their speeds. */
export async function otherFits(registry: Registry, snapshot: StoredOtherSnapshot): Promise<Row[]> {
  const fits = await otherRowsUnder(registry.db, snapshot.id, 'fits', undefined, MOST_FITS);
  const ordinal = (fit: Row) => cruiseClassByKey(String(fit.cruise_class))?.ordinal ?? 0;
  return fits.filter(({ runs_used }) => Number(runs_used) > 0).sort((a, b) => ordinal(a) - ordinal(b));
}

function largestOf(fits: readonly Row[]): Row | undefined {
  return [...fits].sort((a, b) => Number(b.runs_used) - Number(a.runs_used))[0];
}

export const labelOf = (classKey: string): string => cruiseClassByKey(classKey)?.label ?? classKey;

/** Setups with their levels and models. */
export async function otherThings(
  registry: Registry,
  snapshotId: string,
  setupIds: readonly string[],
): Promise<OtherThings> {
  const [setups, levels] = await Promise.all([
    otherRowsByKey(registry.db, snapshotId, 'setups', setupIds),
    otherRowsUnder(registry.db, snapshotId, 'setup_levels', setupIds, MOST_LEVELS * setupIds.length),
  ]);
  const models = await otherRowsByKey(registry.db, snapshotId, 'models', [
    ...new Set(setups.map(({ model_id }) => String(model_id))),
  ]);
  return {
    setups: new Map(setups.map((row) => [String(row.setup_id), row])),
    levels: new Map(
      setupIds.map((setupId) => [setupId, levels.filter(({ setup_id }) => setup_id === setupId)]),
    ),
    models: new Map(models.map((row) => [String(row.model_id), row])),
  };
}

/** Each with its difference from its model as delivered, as their fit has it. */
export async function heldAgainstDelivered(
  registry: Registry,
  snapshotId: string,
  fit: Row,
  setups: readonly OtherRanked[],
): Promise<OtherRanked[]> {
  const keys = setups.flatMap(({ setupId, baseline }) => {
    if (baseline === null || baseline.setupId === setupId) return [];
    const pair = [baseline.setupId, setupId] as const;
    return [keyOf(String(fit.cruise_class), ...pair), keyOf(String(fit.cruise_class), ...pair.toReversed())];
  });
  const contrasts = (await otherRowsByKey(registry.db, snapshotId, 'contrasts', keys)).map(otherContrast);
  return setups.map((setup) => otherAgainst(setup, contrasts, fit));
}
