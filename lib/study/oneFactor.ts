import { factorLabel } from '@/lib/run/factors';
import { differingFactors, type LevelWords } from '@/lib/run/setupLevels';

/** A setup of a study, where it stands on every factor of its model. */
export interface StudiedSetup {
  id: string;
  title: string;
  levels: readonly LevelWords[];
}

/** One question of a study: a setup that differs from the baseline in one factor alone. */
export interface StudyContrast {
  setupId: string;
  factor: string;
}

export type FactorsSeparated =
  | { ok: true; kind: 'one factor' | 'one at a time' | 'full factorial'; contrasts: StudyContrast[] }
  | { ok: false; what: string; why: string; fix: string };

/**
 * Whether a difference between these setups could be put down to one factor. It can where each differs from the baseline
 * in one factor alone, or where every combination of the levels that occur is driven (a full factorial: Fisher R. A.
 * 1935, The Design of Experiments, ch. VI), whose single steps from the baseline are then its questions.
 */
export function separateFactors(baseline: StudiedSetup, others: readonly StudiedSetup[]): FactorsSeparated {
  if (others.length === 0) {
    return {
      ok: false,
      what: 'There is nothing to hold against the baseline.',
      why: 'A difference takes two setups.',
      fix: 'Choose at least one more setup.',
    };
  }
  const steps = others.map((setup) => ({ setup, factors: differingFactors(baseline.levels, setup.levels) }));
  const same = steps.find(({ factors }) => factors.length === 0);
  if (same !== undefined) {
    return {
      ok: false,
      what: `“${same.setup.title}” is the same as the baseline.`,
      why: 'Every factor of it stands at the same level.',
      fix: 'Leave it out, or choose another setup.',
    };
  }
  const contrasts = steps.flatMap(({ setup, factors }) =>
    factors.length === 1 ? [{ setupId: setup.id, factor: factors[0] as string }] : [],
  );
  const moved = [...new Set(steps.flatMap(({ factors }) => factors))];
  if (contrasts.length === steps.length) {
    return { ok: true, kind: moved.length === 1 ? 'one factor' : 'one at a time', contrasts };
  }
  if (isFullFactorial([baseline, ...others], moved)) return { ok: true, kind: 'full factorial', contrasts };
  const both = steps.find(({ factors }) => factors.length > 1) as (typeof steps)[number];
  const named = both.factors.map((factor) => factorLabel(factor).toLowerCase()).join(' and ');
  return {
    ok: false,
    what: `“${both.setup.title}” moves ${named} at once.`,
    why: 'Whatever came out could not be put down to one of them.',
    fix: 'Choose setups that differ from the baseline in one factor each, or all combinations of the levels.',
  };
}

function isFullFactorial(setups: readonly StudiedSetup[], factors: readonly string[]): boolean {
  const levelOf = (setup: StudiedSetup, factor: string) =>
    setup.levels.find((level) => level.factor === factor)?.key ?? '';
  const combinations = new Set(setups.map((setup) => factors.map((f) => levelOf(setup, f)).join('\n')));
  const wanted = factors.reduce(
    (product, factor) => product * new Set(setups.map((setup) => levelOf(setup, factor))).size,
    1,
  );
  return combinations.size === wanted && setups.length === wanted;
}
