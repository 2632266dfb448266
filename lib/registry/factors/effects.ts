import { type AnswerNumbers, bySureness } from '@/lib/answers/answer';
import { modelInText } from '@/lib/run/modelWords';
import type { PooledEffect } from '@/lib/stats/factors/pooledEffect';
import type { FactorEffectKept } from '@/lib/stats/factors/stored';
import { findContrast, percentEnds, percentOf } from '@/lib/stats/orientedContrast';
import { pairSides, stateDifference } from '@/lib/stats/statedDifference';
import type { FitSummary } from '@/lib/stats/stored';
import { singleChangesOf } from '@/lib/store/bestAnswers';
import { type PairSide, sidesOfFit } from '@/lib/store/factorConclusions';
import { contrastsOfPairs, type StoredContrast } from '@/lib/store/publicPages';
import { TRIP_KM } from '../comparisons/compare';
import type { Registry } from '../registry';

/** More or less energy over TRIP_KM, with the ends of the interval for all at once. */
export interface OnTrip {
  difference: number;
  low: number;
  high: number;
}

/** What one model says: the difference of its two setups, as its page of comparison has it. */
export interface ModelAnswer extends AnswerNumbers {
  setup: { setupId: string; slug: string; title: string };
  baseline: { setupId: string; slug: string; title: string };
  model: string;
  modelSlug: string;
  /** Of the baseline. */
  baselineWhPerKm: number;
  onTripWh: OnTrip | null;
}

/** What several models say together. */
export interface PooledAnswer extends AnswerNumbers {
  models: number;
  /** For one more model, %; null with fewer than a prediction needs. */
  further: [number, number] | null;
  /** The mean of the models' baselines, on which `onTripWh` stands. */
  baselineWhPerKm: number;
  onTripWh: OnTrip;
}

/** One shared level of a factor against the one that the others are held against. */
export interface FactorEffect {
  factor: string;
  levelId: string;
  level: string;
  baseline: string;
  models: ModelAnswer[];
  /** Models that have such a pair, drawn or not. */
  of: number;
  pooled: PooledAnswer | null;
}

interface FitRead {
  id: string;
  summary: FitSummary;
  /** Cars that the protocol asks on each side across models. */
  leastCars: number;
}

/** The kept effects with the fit's own differences, of at most so many models each. */
export async function readEffects(
  registry: Registry,
  fit: FitRead,
  kept: readonly FactorEffectKept[],
  most: number,
): Promise<FactorEffect[]> {
  const answersOf = await readPairs(
    registry,
    fit,
    kept.flatMap(({ models }) => models.slice(0, most)),
  );
  return kept.map((effect) => {
    const models = effect.models.slice(0, most).flatMap(answersOf);
    return {
      factor: effect.factor,
      levelId: effect.level.id,
      level: effect.level.words,
      baseline: effect.baseline.words,
      models,
      of: effect.of,
      pooled: effect.pooled === null ? null : pooledAnswer(effect.pooled, models),
    };
  });
}

/** What each model says by itself of a factor whose levels are not named in common, the surest first. */
export async function readSingleChanges(
  registry: Registry,
  fit: FitRead,
  factor: string,
  most: number,
): Promise<ModelAnswer[]> {
  const pairs = await singleChangesOf(registry.db, fit.id, factor, most);
  return pairs.flatMap(await readPairs(registry, fit, pairs)).sort(bySureness);
}

interface Pair {
  baselineId: string;
  setupId: string;
}

/** The fit's own differences of these pairs: what one of them says, nothing where a side is missing. */
async function readPairs(
  registry: Registry,
  fit: FitRead,
  pairs: readonly Pair[],
): Promise<(pair: Pair) => ModelAnswer[]> {
  const [sides, contrasts] = await Promise.all([
    sidesOfFit(
      registry.db,
      fit.id,
      pairs.flatMap(({ baselineId, setupId }) => [baselineId, setupId]),
    ),
    contrastsOfPairs(registry.db, fit.id, pairs),
  ]);
  return ({ baselineId, setupId }) =>
    answerOfModel(sides.get(baselineId), sides.get(setupId), contrasts, fit);
}

function answerOfModel(
  baseline: PairSide | undefined,
  setup: PairSide | undefined,
  contrasts: readonly StoredContrast[],
  fit: FitRead,
): ModelAnswer[] {
  if (baseline === undefined || setup === undefined) return [];
  const contrast = findContrast(contrasts, baseline.setupId, setup.setupId);
  const { model } = setup.setup;
  const ends = contrast?.simultaneous ?? null;
  const difference = contrast?.difference ?? null;
  const sides = pairSides(baseline, setup, fit.leastCars);
  return [
    {
      ...stateDifference(contrast, sides, fit.summary),
      setup: { setupId: setup.setupId, slug: setup.setup.slug, title: setup.setup.title },
      baseline: { setupId: baseline.setupId, slug: baseline.setup.slug, title: baseline.setup.title },
      model: modelInText(model),
      modelSlug: model.slug,
      baselineWhPerKm: baseline.estimateWhPerKm,
      onTripWh:
        difference === null || ends === null ? null : onTrip(baseline.estimateWhPerKm, difference, ends),
    },
  ];
}

/** A pooled effect as everything that a sentence about a difference may say; over a consumption where one is given. */
export function pooledNumbers(effect: PooledEffect): AnswerNumbers {
  return {
    percent: percentOf(effect.estimate),
    pointwise: percentEnds(effect.alone),
    ofModel: null,
    simultaneous: percentEnds(effect.ofAll),
    word: effect.word,
    restsOnOne: effect.restsOnOne,
    connection: '',
    refusal: null,
    isAssumed: false,
    moreSessions: null,
    detectablePercent: null,
  };
}

function pooledAnswer(effect: PooledEffect, models: readonly ModelAnswer[]): PooledAnswer {
  const logs = models
    .filter(({ word }) => word !== null)
    .map(({ baselineWhPerKm }) => Math.log(baselineWhPerKm));
  const baselineWhPerKm = Math.exp(logs.reduce((sum, log) => sum + log, 0) / Math.max(1, logs.length));
  return {
    ...pooledNumbers(effect),
    models: effect.groups,
    further: percentEnds(effect.further),
    baselineWhPerKm,
    onTripWh: onTrip(baselineWhPerKm, effect.estimate, effect.ofAll),
  };
}

export function onTrip(
  baselineWhPerKm: number,
  differenceLog: number,
  ends: readonly [number, number],
): OnTrip {
  const wh = (log: number) => baselineWhPerKm * Math.expm1(log) * TRIP_KM;
  return { difference: wh(differenceLog), low: wh(ends[0]), high: wh(ends[1]) };
}
