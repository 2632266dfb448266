import { FACTORS, type FactorKey } from '@/lib/domain/factors';

export const levelName = (factor: string): string => `level.${factor}`;
export const newLevelName = (factor: string): string => `newLevel.${factor}`;
export const tyreKindName = 'tyreKind';

export interface LevelChoice {
  factor: FactorKey;
  levelId?: string;
  newLabel?: string;
  tyreKind?: string;
}

/** One choice a factor: a new name where one was typed, otherwise the level that was picked. */
export function chosenLevels(form: Readonly<Record<string, string>>): LevelChoice[] {
  return FACTORS.flatMap(({ key }): LevelChoice[] => {
    const newLabel = (form[newLevelName(key)] ?? '').trim();
    const levelId = form[levelName(key)] ?? '';
    if (newLabel !== '') {
      const tyreKind = form[tyreKindName];
      return [{ factor: key, newLabel, ...(key === 'wheelTyre' && tyreKind ? { tyreKind } : {}) }];
    }
    return levelId === '' ? [] : [{ factor: key, levelId }];
  });
}
