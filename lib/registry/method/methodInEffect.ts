import { METHOD_VERSION } from '@/lib/physics/normalise';
import type { Method } from '@/lib/reduction/reduceRun';
import { methodLabel } from '@/lib/run/methodVersion';
import type { WorldKey } from '@/lib/run/world';
import type { Queryable } from '@/lib/store/database';
import { currentMethodVersion, currentMethodVersions, tyreKindsOfLevels } from '@/lib/store/methodVersions';

/**
 * The version under which results of one world are made: the engine of today with what the world's stewards adopted
 * last, or alone where they adopted nothing. A new engine keeps what was adopted, under a label of its own.
 */
export type MethodInEffect = Method;

export const ENGINE_ALONE: MethodInEffect = { label: METHOD_VERSION, roadLoads: new Map() };

/** With everything that it adopted, for those who compute under it. */
export async function methodInEffect(db: Queryable, world: WorldKey): Promise<MethodInEffect> {
  const version = await currentMethodVersion(db, world);
  if (version === null) return ENGINE_ALONE;
  const levels = version.roadLoads.flatMap(({ adoption }) => adoption?.levels ?? []);
  const tyreKinds = await tyreKindsOfLevels(
    db,
    levels.map(({ levelId }) => levelId),
  );
  return {
    label: methodLabel(METHOD_VERSION, { ordinal: version.ordinal, world }),
    roadLoads: new Map(
      version.roadLoads.flatMap(({ modelId, mergedIds, runCount, adoption }) => {
        // Under this label another road load, or the prior, would give other numbers.
        if (adoption === undefined)
          throw new Error(`the road load of model ${modelId} that ${version.label} adopted cannot be read`);
        const learnedAt = adoption.levels.map((level) => ({
          ...level,
          tyreKind: tyreKinds.get(level.levelId) ?? null,
        }));
        const load = { ...adoption, label: version.label, runs: runCount, levels: learnedAt };
        return [modelId, ...mergedIds].map((id) => [id, load] as const);
      }),
    ),
  };
}

/** The labels in effect in each world, for those who look results up. */
export async function labelsInEffect(db: Queryable): Promise<(world: WorldKey) => string> {
  const versions = await currentMethodVersions(db);
  return (world) =>
    labelOf(
      world,
      versions.find((version) => version.world === world),
    );
}

function labelOf(world: WorldKey, version: { ordinal: number } | undefined): string {
  return methodLabel(METHOD_VERSION, version === undefined ? null : { ordinal: version.ordinal, world });
}

export async function labelInEffect(db: Queryable, world: WorldKey): Promise<string> {
  return (await labelsInEffect(db))(world);
}
