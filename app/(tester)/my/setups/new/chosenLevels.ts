import { FACTORS, type FactorKey } from '@/lib/run/factors';

export const levelName = (factor: string): string => `level.${factor}`;
export const newLevelName = (factor: string): string => `newLevel.${factor}`;
export const deliveredName = (factor: string): string => `delivered.${factor}`;
export const tyreKindName = 'tyreKind';
export const deliveredTyreKindName = 'deliveredTyreKind';

export interface LevelChoice {
  factor: FactorKey;
  levelId?: string;
  newLabel?: string;
  tyreKind?: string;
  deliveredLabel?: string;
  deliveredTyreKind?: string;
}

/** One choice a factor: a new name where one was typed, otherwise the level that was picked. */
export function chosenLevels(form: Readonly<Record<string, string>>): LevelChoice[] {
  return FACTORS.flatMap(({ key }): LevelChoice[] => {
    const newLabel = (form[newLevelName(key)] ?? '').trim();
    const levelId = form[levelName(key)] ?? '';
    if (newLabel !== '') {
      return [{ factor: key, newLabel, ...delivered(form, key), ...tyreKinds(form, key) }];
    }
    return levelId === '' ? [] : [{ factor: key, levelId }];
  });
}

function delivered(form: Readonly<Record<string, string>>, factor: FactorKey) {
  const deliveredLabel = (form[deliveredName(factor)] ?? '').trim();
  return deliveredLabel === '' ? {} : { deliveredLabel };
}

function tyreKinds(form: Readonly<Record<string, string>>, factor: FactorKey) {
  if (factor !== 'wheelTyre') return {};
  const [tyreKind, deliveredTyreKind] = [form[tyreKindName], form[deliveredTyreKindName]];
  return { ...(tyreKind ? { tyreKind } : {}), ...(deliveredTyreKind ? { deliveredTyreKind } : {}) };
}
