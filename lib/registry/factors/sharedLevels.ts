import { authorise } from '@/lib/access/authorise';
import { FACTORS, factorLabel, isFactorKey } from '@/lib/run/factors';
import { type Suggestion, suggestSharedLevel } from '@/lib/run/levelNames';
import { modelInText } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf, RECORD, WORLDS, type WorldKey } from '@/lib/run/world';
import { countMapped, namedLevels, type SharedLevelRow, sharedLevels } from '@/lib/store/sharedLevels';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';

const PAGE_SIZE = 50;

export interface LevelToMap {
  id: string;
  model: string;
  modelSlug: string;
  label: string;
  isAsDelivered: boolean;
  sharedLevelId: string | null;
  suggestion: Suggestion | undefined;
}

export interface SharedLevelsView extends Page<LevelToMap> {
  world: WorldKey;
  worlds: readonly WorldKey[];
  factor: string;
  factorLabel: string;
  factors: { key: string; label: string; mapped: number; all: number }[];
  onlyOpen: boolean;
  shared: SharedLevelRow[];
  /** Suggested by names, not there yet. */
  toName: string[];
}

export interface SharedLevelsQuery {
  world?: string | undefined;
  factor?: string | undefined;
  onlyOpen?: boolean;
  from?: string | undefined;
}

/** What testers named of one factor, each beside the shared level that it is or might be mapped to; for stewards. */
export async function readSharedLevels(
  registry: Registry,
  actor: Actor | undefined,
  query: SharedLevelsQuery,
): Promise<SharedLevelsView> {
  authorise(actor, 'mapLevels');
  const only = onlyWorldOf(actor);
  const worlds = only === undefined ? WORLDS : [only];
  const world = worlds.find((each) => each === query.world) ?? worlds[0] ?? RECORD;
  const factor = query.factor !== undefined && isFactorKey(query.factor) ? query.factor : FACTORS[0].key;
  const onlyOpen = query.onlyOpen ?? false;
  const [shared, counts, page] = await Promise.all([
    sharedLevels(registry.db, { world, factor }),
    countMapped(registry.db, world),
    readPage(query.from, {
      size: PAGE_SIZE,
      key: keyPart.uuid,
      read: (place, take) => namedLevels(registry.db, { world, factor, onlyOpen }, place, take),
      keyOf: ({ id }) => id,
    }),
  ]);
  const rows = page.rows.map(
    (level): LevelToMap => ({
      id: level.id,
      model: modelInText(level.model),
      modelSlug: level.model.slug,
      label: level.label,
      isAsDelivered: level.isBaseline,
      sharedLevelId: level.sharedLevelId,
      suggestion: level.sharedLevelId === null ? suggestSharedLevel(factor, level.label, shared) : undefined,
    }),
  );
  return {
    ...page,
    rows,
    world,
    worlds,
    factor,
    factorLabel: factorLabel(factor),
    factors: FACTORS.map(({ key, label }) => ({ key, label, ...(counts.get(key) ?? { mapped: 0, all: 0 }) })),
    onlyOpen,
    shared,
    toName: [
      ...new Set(
        rows.flatMap(({ suggestion }) =>
          suggestion !== undefined && suggestion.id === undefined ? [suggestion.words] : [],
        ),
      ),
    ],
  };
}
