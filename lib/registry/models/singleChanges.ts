import { differingFactors } from '@/lib/run/setupLevels';
import { connectionWords, refusalWords } from '@/lib/stats/connectionWords';
import { type FactorEffect, type FactorRun, factorEffects } from '@/lib/stats/factorEffects';
import type { Evidence } from '@/lib/stats/groupFit';
import { findContrast, percentEnds, percentOf } from '@/lib/stats/orientedContrast';
import type { SessionCell } from '@/lib/store/pairedRuns';
import type { StoredContrast } from '@/lib/store/publicPages';
import type { ModelSetup } from './modelSetups';

/** A setup that differs from the baseline in one factor, and what that did. */
export interface SingleChange {
  setup: ModelSetup;
  factorLabel: string;
  from: string;
  to: string;
  percent: number | null;
  pointwise: [number, number] | null;
  simultaneous: [number, number] | null;
  word: Evidence | null;
  connection: string;
  refusal: string | null;
  /** From sessions alone in which this factor moved and no other, at whatever the others stood. */
  withinSessions: {
    sessions: number;
    cars: number;
    percent: number;
    interval: [number, number] | null;
    /** Share of the spread between sessions that is more than repeatability, 0..1. */
    i2: number;
  } | null;
}

interface ChangeContext {
  setups: readonly ModelSetup[];
  baseline: ModelSetup;
  contrasts: readonly StoredContrast[];
  /** Setups with a run that counts in the class. */
  driven: ReadonlySet<string>;
  /** Of the sessions with several setups, weighted by the class's repeatability. */
  cells: readonly SessionCell[];
  carsOf: (setupId: string) => number;
  leastCars: number;
}

/** Which single change mattered: the fit's differences, with the sessions that show them directly beside. */
export function singleChanges(context: ChangeContext): SingleChange[] {
  const { setups, baseline, contrasts, driven } = context;
  const effects = new Map<string, FactorEffect[]>();
  return setups.flatMap((setup): SingleChange[] => {
    const [factor, ...more] = differingFactors(baseline.levels, setup.levels);
    if (factor === undefined || more.length > 0 || !driven.has(setup.setupId)) return [];
    const from = baseline.levels.find((level) => level.factor === factor);
    const to = setup.levels.find((level) => level.factor === factor);
    if (from === undefined || to === undefined) return [];
    if (!effects.has(factor)) {
      effects.set(factor, factorEffects(factorRuns(context), factor, from.key));
    }
    const effect = effects.get(factor)?.find((candidate) => candidate.level === to.key);
    const contrast = findContrast(contrasts, baseline.setupId, setup.setupId);
    return [
      {
        setup,
        factorLabel: to.factorLabel,
        from: from.label,
        to: to.label,
        percent: contrast?.difference == null ? null : percentOf(contrast.difference),
        pointwise: percentEnds(contrast?.pointwise ?? null),
        simultaneous: percentEnds(contrast?.simultaneous ?? null),
        word: contrast?.word ?? null,
        connection: connectionWords(contrast),
        refusal: refusalWords(contrast, {
          baselineCars: context.carsOf(baseline.setupId),
          setupCars: context.carsOf(setup.setupId),
          leastCars: context.leastCars,
        }),
        withinSessions: withinSessions(effect),
      },
    ];
  });
}

function withinSessions(effect: FactorEffect | undefined): SingleChange['withinSessions'] {
  if (effect?.combined == null) return null;
  return {
    sessions: effect.sessions,
    cars: effect.cars,
    percent: percentOf(effect.combined.estimate),
    interval: percentEnds(effect.combined.interval),
    i2: effect.combined.i2,
  };
}

function factorRuns({ setups, cells }: ChangeContext): FactorRun[] {
  const levels = new Map(
    setups.map((setup) => [
      setup.setupId,
      Object.fromEntries(setup.levels.map((level) => [level.factor, level.key])),
    ]),
  );
  return cells.flatMap(({ carId, sessionId, setupId, mean, variance, runs }) => {
    const own = levels.get(setupId);
    return own === undefined
      ? []
      : [{ car: carId, session: sessionId, z: mean, variance, runs, levels: own }];
  });
}
