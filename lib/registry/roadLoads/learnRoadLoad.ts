import { priorBelief } from '@/lib/physics/learned';
import {
  ASSUMED_SPREAD,
  type Learning,
  learnFromRuns,
  type RelativeSpread,
} from '@/lib/reduction/learning/learnFromRuns';
import { type BasisRun, type LearningBasis, learningBasis } from '@/lib/reduction/learning/learningBasis';
import type { LearnableRun } from '@/lib/reduction/learning/learningRows';
import type { StoredRoadLoad } from '@/lib/reduction/learning/stored';
import { tyreKindOf } from '@/lib/run/tyreKind';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { countedRuns } from '@/lib/store/countedRuns';
import {
  engineInputs,
  largestFit,
  modelForLearning,
  publishRoadLoad,
  setupsForLearning,
} from '@/lib/store/roadLoads';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';

/** Jobs of this kind learn the road load of the model that their key names. */
export const LEARN_JOB = 'learnRoadLoad';

/** Fewer runs than this say less than a prior does. Own judgement. */
export const LEAST_RUNS = 3;
/** The work grows with the cube of the runs; the newest are used. */
const MOST_RUNS = 500;

interface Candidate extends BasisRun, Omit<LearnableRun, 'engineCase'> {
  runId: string;
  setup: { slug: string; title: string };
}

/**
 * Learns a model's road load from its approved runs of all classes and publishes it. The adjustments go on as they are:
 * taking the learned values for them is a new version of the method. It always starts from the table of priors, also
 * where an earlier learning was adopted, so that no run counts once in the prior and once more in the likelihood.
 */
export async function learnRoadLoad(registry: Registry, modelId: string): Promise<StoredRoadLoad | null> {
  const model = await modelForLearning(registry.db, modelId);
  if (model === null) throw new Error(`no model ${modelId}`);
  const world = worldKey(model.world);
  const methodVersion = await shownLabel(registry.db, world);
  const { candidates, counted } = await candidatesOf(registry, { modelId, world, methodVersion });
  const delivered = tyreKindOf(model.levels[0]?.tyreKind);
  const basis = learningBasis(candidates, delivered);
  const used = basis.runs.slice(0, MOST_RUNS);
  const learned =
    used.length < LEAST_RUNS
      ? null
      : toStore(
          learnFromRuns(
            await withCases(registry, used, methodVersion),
            priorBelief(model.bodyClass, basis.tyreKind, model.dragAreaM2 ?? undefined),
            await spreadOf(registry, world),
          ),
          basis,
          used,
          counted,
          candidates.length,
          methodVersion,
        );
  const learnedAt = registry.now();
  await registry.db.$transaction((tx) =>
    publishRoadLoad(
      tx,
      modelId,
      learned && {
        learnedAt,
        runCount: learned.runs,
        beatsPriors: learned.beatsPriors,
        result: learned,
      },
    ),
  );
  return learned;
}

/** The model's counted runs that have a number, the newest first, and how many count in all. */
async function candidatesOf(
  registry: Registry,
  filter: { modelId: string; world: WorldKey; methodVersion: string },
): Promise<{ candidates: Candidate[]; counted: number }> {
  const setups = new Map(
    (await setupsForLearning(registry.db, filter.modelId)).map(({ id, slug, title, levels }) => [
      id,
      { setup: { slug, title }, levels: levels.map(({ factor, level }) => ({ factor, ...level })) },
    ]),
  );
  const candidates: Candidate[] = [];
  let counted = 0;
  for await (const run of countedRuns(registry.db, filter)) {
    counted += 1;
    const { runId, setupId, carId, sessionId, measuredWhPerKm, u } = run;
    const of = setups.get(setupId);
    if (u === null || measuredWhPerKm === null || of === undefined) continue;
    candidates.push({
      runId,
      setupId,
      ...of,
      runNumber: run.number,
      carId,
      sessionId,
      measuredWhPerKm,
      uRunRelative: u,
    });
  }
  return { candidates: candidates.reverse(), counted };
}

/** With what the engine was given for each. */
async function withCases(
  registry: Registry,
  runs: readonly Candidate[],
  methodVersion: string,
): Promise<LearnableRun[]> {
  const inputs = await engineInputs(
    registry.db,
    runs.map(({ runId }) => runId),
    methodVersion,
  );
  return runs.map((run) => {
    const engineCase = inputs.get(run.runId);
    // a learning from some of the runs would be shown as one from all
    if (engineCase === undefined)
      throw new Error(`what the engine was given for run ${run.runNumber} cannot be read`);
    return { ...run, engineCase };
  });
}

/** How cars, days and runs scatter, from the largest fit of the same world. */
async function spreadOf(registry: Registry, world: WorldKey): Promise<RelativeSpread> {
  const fit = await largestFit(registry.db, world);
  if (fit?.summary === undefined) return ASSUMED_SPREAD;
  const { components, origins } = fit.summary;
  if (origins.residual !== 'own' || !(components.residual > 0)) return ASSUMED_SPREAD;
  const { session, residual } = components;
  // The learning knows cars, not loops: what a car does on one loop is a part of how cars scatter.
  const car = components.car + components.carLoop;
  const { label } = fit.group.cruiseClass;
  return { car, session, residual, from: `the fit of ${fit.runCount} runs at ${label}` };
}

function toStore(
  learning: Learning,
  basis: LearningBasis<Candidate>,
  used: readonly Candidate[],
  approvedRuns: number,
  normalisedRuns: number,
  methodVersion: string,
): StoredRoadLoad {
  const setups = new Map<string, { slug: string; title: string; runs: number }>();
  for (const { setupId, setup } of used) {
    setups.set(setupId, { ...setup, runs: (setups.get(setupId)?.runs ?? 0) + 1 });
  }
  const otherSetups =
    basis.kind === 'asDelivered'
      ? 'of a setup that changes drag, tyres or drive'
      : 'of another setup than the one with most runs';
  const leftOut = [
    { reason: 'outside the method’s reach', runs: approvedRuns - normalisedRuns },
    { reason: otherSetups, runs: normalisedRuns - basis.runs.length },
    { reason: `older than the newest ${MOST_RUNS}`, runs: basis.runs.length - used.length },
  ].filter(({ runs }) => runs > 0);
  return {
    ...learning,
    methodVersion,
    basis: basis.kind,
    tyreKind: basis.tyreKind,
    setups: [...setups.values()].sort((a, b) => b.runs - a.runs),
    approvedRuns,
    leftOut,
  };
}
