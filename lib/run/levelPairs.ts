import { differingFactors, type LevelWords } from './setupLevels';

export interface MappedSetup {
  setupId: string;
  runs: number;
  levels: readonly LevelWords[];
}

/** Two setups of one model that differ in one factor alone: one at its shared baseline, one at another shared level. */
export interface LevelPair {
  baselineId: string;
  setupId: string;
  /** Whether everything else is as delivered. */
  isOtherwiseDelivered: boolean;
  /** Of the one with fewer. */
  runs: number;
}

/**
 * The pairs of a model that show one shared level against the baseline, those with everything else as delivered first,
 * then those with most runs.
 *
 * @param sharedOf the shared level that a level of the factor is mapped to, by its key
 */
export function levelPairs(
  setups: readonly MappedSetup[],
  factor: string,
  sharedOf: ReadonlyMap<string, string>,
  between: { baseline: string; level: string },
): LevelPair[] {
  const at = (setup: MappedSetup) => {
    const own = setup.levels.find((level) => level.factor === factor);
    return own === undefined ? undefined : sharedOf.get(own.key);
  };
  const baselines = setups.filter((setup) => at(setup) === between.baseline);
  const others = setups.filter((setup) => at(setup) === between.level);
  return baselines
    .flatMap((baseline) =>
      others.flatMap((setup): LevelPair[] => {
        const differing = differingFactors(baseline.levels, setup.levels);
        if (differing.length !== 1 || differing[0] !== factor) return [];
        return [
          {
            baselineId: baseline.setupId,
            setupId: setup.setupId,
            isOtherwiseDelivered: baseline.levels.every(
              (level) => level.factor === factor || level.isAsDelivered,
            ),
            runs: Math.min(baseline.runs, setup.runs),
          },
        ];
      }),
    )
    .sort(
      (a, b) =>
        Number(b.isOtherwiseDelivered) - Number(a.isOtherwiseDelivered) ||
        b.runs - a.runs ||
        (a.setupId + a.baselineId < b.setupId + b.baselineId ? -1 : 1),
    );
}
