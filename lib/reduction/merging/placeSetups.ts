import { levelsKey } from '@/lib/run/factors';
import { setupTitle } from '@/lib/run/setupTitle';

/** A level that stays, as setups name it. */
export interface StandingLevel {
  id: string;
  factor: string;
  key: string;
  label: string;
  isBaseline: boolean;
}

export interface SetupToPlace {
  id: string;
  title: string;
  levels: readonly { factor: string; levelId: string }[];
}

/** Where a setup goes: it stays one of its own under other levels, or becomes one that is there already. */
export type PlacedSetup =
  | {
      setupId: string;
      kind: 'moves';
      levelsKey: string;
      title: string;
      levels: { factor: string; levelId: string }[];
    }
  | { setupId: string; kind: 'joins'; title: string; intoId: string };

/**
 * Where setups go once some of their levels are others. A level as delivered tells no setups apart, so that one which
 * becomes that falls out of a setup's key. `standing` are the setups that stay where they are, by their keys.
 */
export function placeSetups(
  setups: readonly SetupToPlace[],
  levelNow: (levelId: string) => StandingLevel,
  standing: ReadonlyMap<string, string>,
): PlacedSetup[] {
  const taken = new Map(standing);
  return setups.map(({ id: setupId, title, levels }) => {
    const now = levels.map(({ levelId }) => levelNow(levelId));
    const changed = now.filter(({ isBaseline }) => !isBaseline);
    const key = levelsKey(changed);
    const intoId = taken.get(key);
    if (intoId !== undefined) return { setupId, kind: 'joins', title, intoId };
    taken.set(key, setupId);
    return {
      setupId,
      kind: 'moves',
      levelsKey: key,
      title: setupTitle(changed),
      levels: now.map(({ factor, id }) => ({ factor, levelId: id })),
    };
  });
}
