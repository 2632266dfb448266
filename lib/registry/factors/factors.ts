import { FACTORS } from '@/lib/run/factors';
import type { Fault } from '@/lib/stats/holds/intervalsHold';
import { planSeparation, type Separation } from '@/lib/stats/separationPlan';
import { fitFactorsOf } from '@/lib/store/factorConclusions';
import { currentFit } from '@/lib/store/fits';
import { pairedSessions } from '@/lib/store/pairedRuns';
import { sharedLevels } from '@/lib/store/sharedLevels';
import { type ChosenGroup, chooseGroup } from '../comparisons/comparisonWorld';
import { shownLabel } from '../counted/countedLabel';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { MOST_MODELS } from './bounds';
import { type FactorEffect, type ModelAnswer, readEffects, readSingleChanges } from './effects';
import { readSpeeds, type SpeedsView } from './speeds';

export interface FactorQuery {
  classKey?: string | undefined;
  world?: string | undefined;
}

interface OfClass extends ChosenGroup {
  fit: { fittedAt: Date; runCount: number; converged: boolean; faults: Fault[] | null } | null;
  /** The class was fitted and what follows of factors is still being concluded. */
  isDue: boolean;
}

export interface FactorsView extends OfClass {
  factors: { key: string; label: string; isMapped: boolean; effects: FactorEffect[] }[];
  speeds: SpeedsView | undefined;
}

/** Models that a line of the list names where there is no common number. */
const MOST_IN_A_LIST = 3;

/** Every factor as far as it can be answered in one class. */
export async function readFactors(registry: Registry, query: FactorQuery): Promise<FactorsView | undefined> {
  const chosen = await chooseGroup(registry, query);
  if (chosen === undefined) return undefined;
  const { world } = chosen.group;
  const [{ ofClass, effects }, shared, speeds] = await Promise.all([
    readClass(registry, chosen, undefined, MOST_IN_A_LIST),
    sharedLevels(registry.db, { world }),
    readSpeeds(registry, world, MOST_IN_A_LIST),
  ]);
  return {
    ...ofClass,
    factors: FACTORS.map(({ key, label }) => ({
      key,
      label,
      isMapped: shared.some(({ factor, isBaseline }) => factor === key && !isBaseline),
      effects: effects.filter(({ factor }) => factor === key),
    })),
    speeds,
  };
}

export interface FactorView extends OfClass {
  key: string;
  label: string;
  /** Levels that are mapped, whether a class has such a pair or not. */
  levels: string[];
  effects: FactorEffect[];
  /** Where no two shared levels can be held against each other: what single models say, in their own words. */
  singly: ModelAnswer[];
  /** The driving that would find WANTED in one model; undefined without a fit. */
  separation: Separation | undefined;
}

/** What a plan of further sessions is to find, % with a chance of: as on the page of comparison. */
export const WANTED = { percent: 2, power: 0.8 } as const;

/** One factor in one class, model by model; undefined where nothing was fitted at all, or for a key that is none. */
export async function readFactor(
  registry: Registry,
  key: string,
  query: FactorQuery,
): Promise<FactorView | undefined> {
  const factor = FACTORS.find((each) => each.key === key);
  const chosen = factor && (await chooseGroup(registry, query));
  if (factor === undefined || chosen === undefined) return undefined;
  const { world } = chosen.group;
  const [{ ofClass, effects, summary, read }, shared, methodVersion] = await Promise.all([
    readClass(registry, chosen, key, MOST_MODELS),
    sharedLevels(registry.db, { world, factor: key }),
    shownLabel(registry.db, world),
  ]);
  const withSessions = async (model: ModelAnswer): Promise<ModelAnswer> => {
    const pair = { baselineId: model.baseline.setupId, setupId: model.setup.setupId };
    const of = { ...chosen.group, methodVersion, ...pair };
    const { total, lower } = await pairedSessions(registry.db, of, 1);
    return { ...model, sideBySide: { total, lower } };
  };
  return {
    ...ofClass,
    key,
    label: factor.label,
    levels: shared.map(({ words }) => words),
    singly:
      read === undefined || effects.length > 0
        ? []
        : await readSingleChanges(registry, read, key, MOST_MODELS),
    effects: await Promise.all(
      effects.map(async (effect) => ({
        ...effect,
        models: await Promise.all(effect.models.map(withSessions)),
      })),
    ),
    separation: summary && planSeparation(WANTED, summary, undefined, true),
  };
}

/** What was concluded from the current fit of a class; nothing of an earlier one, so that no two pages differ. */
async function readClass(registry: Registry, chosen: ChosenGroup, factor: string | undefined, most: number) {
  const fit = await currentFit(registry.db, chosen.group);
  const kept = fit === null ? undefined : (await fitFactorsOf(registry.db, [fit.id])).get(fit.id);
  const ofClass: OfClass = {
    ...chosen,
    fit: fit && {
      fittedAt: fit.fittedAt,
      runCount: fit.runCount,
      converged: fit.converged,
      faults: fit.faults,
    },
    isDue: fit !== null && kept === undefined,
  };
  const summary = fit?.summary;
  if (fit === null || kept === undefined || summary === undefined) {
    return { ofClass, effects: [], summary, read: undefined };
  }
  const { carsAcrossModels } = (await activeProtocol(registry)).parameters.ranking;
  const read = { id: fit.id, summary, leastCars: carsAcrossModels };
  const effects = await readEffects(
    registry,
    read,
    kept.effects.filter((effect) => factor === undefined || effect.factor === factor),
    most,
  );
  return { ofClass, effects, summary, read };
}
