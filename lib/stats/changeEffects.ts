import { type FactorEffect, type FactorRun, factorEffects } from './factorEffects';
import type { GroupFit } from './groupFit';
import { findContrast, type PairContrast, percentEnds, percentOf } from './orientedContrast';
import { pairSides, type StatedDifference, stateDifference } from './statedDifference';

/** What a change from a baseline did, in per cent of the baseline's consumption. */
export interface ChangeEffect extends StatedDifference {
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

/** A setup that is one factor away from the baseline. */
interface Change {
  setup: { setupId: string };
  factor: string;
  from: { key: string };
  to: { key: string };
}

/** The runs of one setup in one session: their mean of ln consumption and its variance. */
export interface SessionMean {
  carId: string;
  sessionId: string;
  setupId: string;
  runs: number;
  mean: number;
  variance: number;
  shared?: Readonly<Record<string, number>>;
}

interface ChangeContext {
  baselineId: string;
  /** The key of the level by factor, of every setup of the model. */
  levels: ReadonlyMap<string, Readonly<Record<string, string>>>;
  contrasts: readonly PairContrast[];
  /** Of the sessions with several setups, weighted by the class's repeatability. */
  cells: readonly SessionMean[];
  /** How many drove a setup. */
  countsOf: (setupId: string) => { cars: number; testers: number };
  leastCars: number;
  fit: Pick<GroupFit, 'repeatability' | 'components' | 'origins'>;
}

/** Which single change mattered: the fit's differences, with the sessions that show them directly beside. */
export function changeEffects<One extends Change>(
  changes: readonly One[],
  context: ChangeContext,
): (One & ChangeEffect)[] {
  const { baselineId, contrasts, countsOf, leastCars, fit } = context;
  const delivered = countsOf(baselineId);
  const effects = new Map<string, FactorEffect[]>();
  const effectsOf = (factor: string, from: string): FactorEffect[] => {
    const known = effects.get(factor) ?? factorEffects(factorRuns(context), factor, from);
    effects.set(factor, known);
    return known;
  };
  return changes.map((change) => {
    const { setupId } = change.setup;
    const effect = effectsOf(change.factor, change.from.key).find(({ level }) => level === change.to.key);
    const contrast = findContrast(contrasts, baselineId, setupId);
    return {
      ...change,
      ...stateDifference(contrast, pairSides(delivered, countsOf(setupId), leastCars), fit),
      withinSessions: withinSessions(effect),
    };
  });
}

function withinSessions(effect: FactorEffect | undefined): ChangeEffect['withinSessions'] {
  if (effect?.combined == null) return null;
  return {
    sessions: effect.sessions,
    cars: effect.cars,
    percent: percentOf(effect.combined.estimate),
    interval: percentEnds(effect.combined.interval),
    i2: effect.combined.i2,
  };
}

function factorRuns({ levels, cells }: ChangeContext): FactorRun[] {
  return cells.flatMap(({ carId, sessionId, setupId, mean, variance, shared = {}, runs }) => {
    const own = levels.get(setupId);
    return own === undefined
      ? []
      : [{ car: carId, session: sessionId, z: mean, variance, shared, runs, levels: own }];
  });
}
