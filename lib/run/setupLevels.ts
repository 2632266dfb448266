import { FACTORS, factorLabel } from './factors';

export interface Level {
  factor: string;
  key: string;
  label: string;
  isBaseline: boolean;
}

/** Where a setup stands on one factor of its model. */
export interface LevelWords {
  factor: string;
  factorLabel: string;
  key: string;
  label: string;
  isAsDelivered: boolean;
}

interface SetupLevels {
  levels: readonly { factor: string; level: { key: string; label: string; isBaseline: boolean } }[];
}

/** Every factor that the model knows, at the level the setup names or, where it names none, as delivered. */
export function fullLevels(setup: SetupLevels, modelLevels: readonly Level[]): LevelWords[] {
  return FACTORS.flatMap(({ key: factor }) => {
    const named = setup.levels.find((level) => level.factor === factor)?.level;
    const delivered = modelLevels.find((level) => level.factor === factor && level.isBaseline);
    const level = named ?? delivered;
    if (level === undefined) return [];
    return [
      {
        factor,
        factorLabel: factorLabel(factor),
        key: level.key,
        label: level.label,
        isAsDelivered: level.isBaseline,
      },
    ];
  });
}

/** The key of the level by factor. */
export function levelsByFactor(levels: readonly LevelWords[]): Record<string, string> {
  return Object.fromEntries(levels.map(({ factor, key }) => [factor, key]));
}

/** The factors on which two setups of a model differ. */
export function differingFactors(one: readonly LevelWords[], other: readonly LevelWords[]): string[] {
  const keyAt = (levels: readonly LevelWords[], factor: string) =>
    levels.find((level) => level.factor === factor)?.key;
  return FACTORS.map(({ key }) => key as string).filter(
    (factor) => keyAt(one, factor) !== keyAt(other, factor),
  );
}

/** A setup that differs from a baseline in one factor alone, and where the two stand on it. */
export interface FactorChange<Setup> {
  setup: Setup;
  factor: string;
  factorLabel: string;
  from: LevelWords;
  to: LevelWords;
}

/** The setups that are one factor away from the baseline. */
export function singleFactorChanges<Setup extends { levels: readonly LevelWords[] }>(
  baseline: Setup,
  setups: readonly Setup[],
): FactorChange<Setup>[] {
  return setups.flatMap((setup) => {
    const [factor, ...more] = differingFactors(baseline.levels, setup.levels);
    if (factor === undefined || more.length > 0) return [];
    const from = baseline.levels.find((level) => level.factor === factor);
    const to = setup.levels.find((level) => level.factor === factor);
    return from === undefined || to === undefined
      ? []
      : [{ setup, factor, factorLabel: to.factorLabel, from, to }];
  });
}

/** The setup that the others are held against: as delivered in every factor, or else the one with most runs. */
export function baselineOf<Setup extends { levels: readonly LevelWords[]; runs: number }>(
  setups: readonly Setup[],
): Setup | undefined {
  const delivered = setups.find((setup) => setup.levels.every((level) => level.isAsDelivered));
  return delivered ?? setups.reduce<Setup | undefined>((a, b) => (a && a.runs >= b.runs ? a : b), undefined);
}
