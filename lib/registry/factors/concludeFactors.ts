import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { levelPairs } from '@/lib/run/levelPairs';
import { fullLevels } from '@/lib/run/setupLevels';
import type { WorldKey } from '@/lib/run/world';
import { modelDifference } from '@/lib/stats/factors/modelDifference';
import { type AnsweringGroup, poolQuestions } from '@/lib/stats/factors/pooledEffect';
import type { AcrossModels, FactorEffectKept } from '@/lib/stats/factors/stored';
import { findContrast, type OrientedContrast } from '@/lib/stats/orientedContrast';
import type { FitSummary } from '@/lib/stats/stored';
import { currentFitsOf, publishFitFactors, runsByTester } from '@/lib/store/factorConclusions';
import { currentFit } from '@/lib/store/fits';
import { contrastsAmong } from '@/lib/store/publicPages';
import {
  mappedModel,
  modelsWithSharedLevels,
  type SharedLevelRow,
  sharedLevels,
} from '@/lib/store/sharedLevels';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';
import { MOST_MODELS } from './bounds';
import { concludeSpeed } from './concludeSpeed';

/** Jobs of this kind conclude what factors did in a world: across models, and across cruise speed classes. */
export const FACTORS_JOB = 'concludeFactors';

/**
 * Concludes anew, from the current fit of each class of a world and from the levels as mapped now. Kept with the fit:
 * where another takes its place meanwhile, that one has asked for a job of its own.
 */
export async function concludeFactors(registry: Registry, world: WorldKey): Promise<void> {
  const [shared, modelIds, fits] = await Promise.all([
    sharedLevels(registry.db, { world }),
    modelsWithSharedLevels(registry.db, world),
    currentFitsOf(registry.db, world),
  ]);
  for (const { id: fitId, group } of fits) {
    const startedAt = performance.now();
    const cruiseClassKey = group.cruiseClass.key;
    const result = await ofClass(registry, { world, cruiseClassKey, fitId }, shared, modelIds);
    if (result === undefined) continue;
    await registry.db.$transaction((tx) =>
      publishFitFactors(tx, {
        fitId,
        computedAt: registry.now(),
        durationMs: performance.now() - startedAt,
        result,
      }),
    );
  }
  await concludeSpeed(
    registry,
    world,
    CRUISE_CLASSES.filter(({ key }) => fits.some(({ group }) => group.cruiseClass.key === key)),
  );
}

interface ClassFit {
  world: WorldKey;
  cruiseClassKey: string;
  fitId: string;
}

/** One shared level against the baseline of its factor, as the models show it. */
interface Asked {
  key: string;
  factor: string;
  baseline: SharedLevelRow;
  level: SharedLevelRow;
  models: { modelId: string; baselineId: string; setupId: string; se: number }[];
  groups: AnsweringGroup[];
}

async function ofClass(
  registry: Registry,
  of: ClassFit,
  shared: readonly SharedLevelRow[],
  modelIds: readonly string[],
): Promise<AcrossModels | undefined> {
  const { world, cruiseClassKey } = of;
  const fit = await currentFit(registry.db, { world, cruiseClassKey });
  if (fit?.id !== of.fitId || fit.summary === undefined) return undefined;
  const methodVersion = await shownLabel(registry.db, world);
  const asked = shared
    .filter(({ isBaseline }) => !isBaseline)
    .flatMap((level): Asked[] => {
      const baseline = shared.find((one) => one.isBaseline && one.factor === level.factor);
      const { factor, id: key } = level;
      return baseline === undefined ? [] : [{ key, factor, baseline, level, models: [], groups: [] }];
    });
  for (const modelId of modelIds)
    await askModel(registry, { ...of, methodVersion }, fit.summary, modelId, asked);
  const pooled = poolQuestions(asked);
  const effects = asked
    .filter(({ models }) => models.length > 0)
    .map(
      ({ key, factor, baseline, level, models }): FactorEffectKept => ({
        factor,
        baseline: { id: baseline.id, words: baseline.words },
        level: { id: level.id, words: level.words },
        models: models
          .sort((a, b) => a.se - b.se)
          .slice(0, MOST_MODELS)
          .map(({ se: _se, ...pair }) => pair),
        of: models.length,
        pooled: pooled.get(key) ?? null,
      }),
    );
  return { version: 1, effects };
}

/** Which pairs of a model's setups show which shared levels, and what the fit says of each. */
async function askModel(
  registry: Registry,
  of: ClassFit & { methodVersion: string },
  summary: FitSummary,
  modelId: string,
  asked: readonly Asked[],
): Promise<void> {
  const model = await mappedModel(registry.db, modelId, of.fitId);
  const setups = model.setups.map((setup) => ({ ...setup, levels: fullLevels(setup, model.levels) }));
  if (setups.length < 2) return;
  const setupIds = setups.map(({ setupId }) => setupId);
  const { world, methodVersion, cruiseClassKey } = of;
  const [contrasts, driven] = await Promise.all([
    contrastsAmong(registry.db, of.fitId, setupIds),
    runsByTester(registry.db, { world, methodVersion, cruiseClassKey, setupIds }),
  ]);
  for (const one of asked) {
    const sharedOf = new Map(
      model.levels.flatMap(({ factor, key, sharedLevelId }) =>
        factor === one.factor && sharedLevelId !== null ? [[key, sharedLevelId] as const] : [],
      ),
    );
    const between = { baseline: one.baseline.id, level: one.level.id };
    const pairs = levelPairs(setups, one.factor, sharedOf, between);
    const judged = pairs.map((pair) => ({
      ...pair,
      contrast: findContrast(contrasts, pair.baselineId, pair.setupId),
    }));
    // the first of which the fit says something; where it says nothing of any, the page says why
    const chosen = judged.find(({ contrast }) => fitted(contrast) !== undefined) ?? judged[0];
    if (chosen === undefined) continue;
    const { baselineId, setupId } = chosen;
    const found = fitted(chosen.contrast);
    one.models.push({ modelId, baselineId, setupId, se: found?.se ?? Number.POSITIVE_INFINITY });
    if (found === undefined) continue;
    const own = driven.filter((row) => row.setupId === baselineId || row.setupId === setupId);
    one.groups.push({ ...modelDifference(modelId, found, chosen, summary), testers: sharesOf(own) });
  }
}

function fitted(contrast: OrientedContrast | undefined) {
  if (contrast?.word == null) return undefined;
  const { difference, se, dof } = contrast;
  return difference === null || se === null || dof === null || !(se > 0) || !(dof > 0)
    ? undefined
    : { difference, se, dof };
}

function sharesOf(rows: readonly { testerId: string; runs: number }[]): Record<string, number> {
  const total = rows.reduce((sum, { runs }) => sum + runs, 0);
  const shares: Record<string, number> = {};
  for (const { testerId, runs } of rows) shares[testerId] = (shares[testerId] ?? 0) + runs / total;
  return shares;
}
