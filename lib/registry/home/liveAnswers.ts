import type { AnswerNumbers } from '@/lib/answers/answer';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { modelInText } from '@/lib/run/modelWords';
import { isWorldKey, type WorldKey } from '@/lib/run/world';
import type { Fault } from '@/lib/stats/holds/intervalsHold';
import { findContrast } from '@/lib/stats/orientedContrast';
import { pairSides, stateDifference } from '@/lib/stats/statedDifference';
import { bestChanges } from '@/lib/store/bestAnswers';
import { currentFit, estimatesOf } from '@/lib/store/fits';
import { pairedSessions } from '@/lib/store/pairedRuns';
import { contrastsAmong } from '@/lib/store/publicPages';
import { shownLabel } from '../counted/countedLabel';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';

interface AnsweredSetup {
  setupId: string;
  slug: string;
  title: string;
}

/** What one change did to one model, as the current fit of its class says. */
export interface LiveAnswer extends AnswerNumbers {
  world: WorldKey;
  classKey: string;
  classLabel: string;
  model: string;
  baseline: AnsweredSetup;
  setup: AnsweredSetup;
  /** Runs of both in the fit. */
  runs: number;
  fittedAt: Date;
  /** What speaks against the intervals of the class; null where that is not known. */
  faults: Fault[] | null;
}

interface PairAsked {
  classKey: string;
  baselineSlug: string;
  setupSlug: string;
}

/** The best-supported answers of a world, the surest first; no two of one factor on one model. */
export async function readBestAnswers(
  registry: Registry,
  world: WorldKey,
  take: number,
): Promise<LiveAnswer[]> {
  const best = await bestChanges(registry.db, world, take);
  const pairs = best.map(({ cruiseClassKey, ...slugs }) => ({ classKey: cruiseClassKey, ...slugs }));
  return (await readPairs(registry, world, pairs)).filter((answer) => answer !== undefined);
}

/** One setup against another of its class; undefined where the fit does not have both. */
export async function readAnswer(
  registry: Registry,
  world: string,
  asked: PairAsked,
): Promise<LiveAnswer | undefined> {
  if (!isWorldKey(world)) return undefined;
  const [answer] = await readPairs(registry, world, [asked]);
  return answer;
}

/** The fit of a class, the protocol and the world's label are read once for all pairs that need them. */
async function readPairs(
  registry: Registry,
  world: WorldKey,
  pairs: readonly PairAsked[],
): Promise<(LiveAnswer | undefined)[]> {
  if (pairs.length === 0) return [];
  const classes = CRUISE_CLASSES.filter(({ key }) => pairs.some(({ classKey }) => classKey === key));
  const [methodVersion, protocol, ...fits] = await Promise.all([
    shownLabel(registry.db, world),
    activeProtocol(registry),
    ...classes.map(({ key }) => currentFit(registry.db, { cruiseClassKey: key, world })),
  ]);
  const leastCars = protocol.parameters.ranking.carsAcrossModels;
  return Promise.all(
    pairs.map(async ({ classKey, baselineSlug, setupSlug }): Promise<LiveAnswer | undefined> => {
      const at = classes.findIndex(({ key }) => key === classKey);
      const [cruiseClass, fit] = [classes[at], fits[at]];
      if (!cruiseClass || !fit) return undefined;
      const rows = await estimatesOf(registry.db, fit.id, [baselineSlug, setupSlug]);
      const [baseline, own] = [baselineSlug, setupSlug].map((slug) =>
        rows.find((row) => row.setup.slug === slug),
      );
      if (baseline === undefined || own === undefined || baseline === own) return undefined;
      const ids = { baselineId: baseline.setupId, setupId: own.setupId };
      const [contrasts, { total, lower }] = await Promise.all([
        contrastsAmong(registry.db, fit.id, [ids.baselineId, ids.setupId]),
        pairedSessions(registry.db, { world, methodVersion, cruiseClassKey: classKey, ...ids }, 1),
      ]);
      const sides = pairSides(baseline, own, leastCars);
      return {
        ...stateDifference(findContrast(contrasts, ids.baselineId, ids.setupId), sides, fit.summary),
        sideBySide: { total, lower },
        world,
        classKey,
        classLabel: cruiseClass.label,
        model: modelInText(own.setup.model),
        baseline: named(baseline),
        setup: named(own),
        runs: baseline.runs + own.runs,
        fittedAt: fit.fittedAt,
        faults: fit.faults,
      };
    }),
  );
}

const named = ({ setupId, setup }: { setupId: string; setup: { slug: string; title: string } }) => ({
  setupId,
  slug: setup.slug,
  title: setup.title,
});
