import type { RoadLoadBelief } from '@/lib/physics/learned';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import type { AdoptedRoadLoad } from '@/lib/reduction/adoptedTerms';
import { methodLabel } from '@/lib/run/methodVersion';
import type { Queryable } from '@/lib/store/database';
import { currentMethodVersion, currentMethodVersions } from '@/lib/store/methodVersions';

/**
 * The version under which results of one world are made: the engine of today with what the world's stewards adopted
 * last, or alone where they adopted nothing. A new engine keeps what was adopted, under a label of its own.
 */
export interface MethodInEffect {
  label: string;
  /** By model. */
  roadLoads: ReadonlyMap<string, AdoptedRoadLoad>;
}

export const ENGINE_ALONE: MethodInEffect = { label: METHOD_VERSION, roadLoads: new Map() };

/** With everything that it adopted, for those who compute under it. */
export async function methodInEffect(db: Queryable, isDemo: boolean): Promise<MethodInEffect> {
  const version = await currentMethodVersion(db, isDemo);
  if (version === null) return ENGINE_ALONE;
  return {
    label: methodLabel(METHOD_VERSION, { ordinal: version.ordinal, isDemo }),
    roadLoads: new Map(
      version.roadLoads.map(({ modelId, runCount, posterior, levels }) => [
        modelId,
        {
          label: version.label,
          runs: runCount,
          posterior: readPosterior(posterior),
          levels: readLevels(levels),
        },
      ]),
    ),
  };
}

/** The labels in effect in the record and in the demo world, for those who look results up. */
export async function labelsInEffect(db: Queryable): Promise<(isDemo: boolean) => string> {
  const versions = await currentMethodVersions(db);
  return (isDemo) =>
    methodLabel(METHOD_VERSION, versions.find((version) => version.isDemo === isDemo) ?? null);
}

export async function labelInEffect(db: Queryable, isDemo: boolean): Promise<string> {
  return (await labelsInEffect(db))(isDemo);
}

/** As the adoption wrote them, through JSON. */
function readPosterior(stored: unknown): RoadLoadBelief {
  return stored as RoadLoadBelief;
}

function readLevels(stored: unknown): AdoptedRoadLoad['levels'] {
  return stored as AdoptedRoadLoad['levels'];
}
