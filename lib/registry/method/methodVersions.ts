import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { dateText } from '@/lib/run/localDate';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { WORLDS, type WorldKey, worldKey } from '@/lib/run/world';
import { latestJob } from '@/lib/store/jobs';
import { adoptedVersions, currentMethodVersion } from '@/lib/store/methodVersions';
import type { Registry } from '../registry';
import { RENORMALISE_JOB } from '../runs/renormaliseAll';
import { progressOfJob, type WorkProgress } from '../work/progress';
import { candidatesOf } from './adoptable';
import { labelInEffect } from './methodInEffect';

export interface AdoptedVersion {
  id: string;
  label: string;
  engine: string;
  world: WorldKey;
  isCurrent: boolean;
  /** yyyy-mm-dd, UTC. */
  on: string;
  by: string;
  summary: string;
  models: { slug: string; name: string; runs: number; gainPerRun: number }[];
}

/** Everything that stewards adopted beside the engine's own method, the newest first. */
export async function readMethodVersions(registry: Registry): Promise<AdoptedVersion[]> {
  const versions = await adoptedVersions(registry.db);
  return versions.map(({ adoptedAt, adoptedBy, roadLoads, ...version }) => ({
    ...version,
    world: worldKey(version.world),
    on: dateText(adoptedAt),
    by: adoptedBy.displayName,
    models: roadLoads.map(({ model, runCount, gainPerRun }) => ({
      slug: model.slug,
      name: modelWords(model),
      runs: runCount,
      gainPerRun,
    })),
  }));
}

export interface AdoptionCandidate {
  learnedId: string;
  slug: string;
  name: string;
  runs: number;
  gainPerRun: number;
  learnedOn: string;
  /** The version in effect adjusts this model's runs by an earlier learning. */
  isAdopted: boolean;
  /** Null where it would be adopted. */
  refusal: string | null;
}

export interface AdoptionView {
  world: WorldKey;
  /** In effect now. */
  label: string;
  engine: string;
  currentVersionId: string | null;
  candidates: AdoptionCandidate[];
  /** Of the candidates those that would be adopted. */
  adoptable: AdoptionCandidate[];
  /** Models of the version in effect that have nothing to adopt any more: they would return to their priors. */
  returning: number;
  /** Revisions are still being brought under the version in effect. */
  isComputing: boolean;
  /** How far that is. */
  progress: WorkProgress | null;
}

/** What a steward may adopt, for each world that is theirs to decide on. */
export async function readAdoptions(registry: Registry, actor: Actor | undefined): Promise<AdoptionView[]> {
  // a demo steward decides on the demo world alone: asked without a world, the question is only whether steward
  authorise(actor, 'adoptRoadLoads');
  const worlds = WORLDS.filter((world) => may(actor, 'adoptRoadLoads', undefined, world));
  return Promise.all(worlds.map((world) => adoptionOf(registry, world)));
}

async function adoptionOf(registry: Registry, world: WorldKey): Promise<AdoptionView> {
  const [label, current, found] = await Promise.all([
    labelInEffect(registry.db, world),
    currentMethodVersion(registry.db, world),
    candidatesOf(registry.db, world),
  ]);
  const job = await latestJob(registry.db, RENORMALISE_JOB, label);
  const isComputing = job !== null && (job.state === 'queued' || job.state === 'running');
  const inUse = new Set(current?.roadLoads.map(({ modelId }) => modelId));
  const candidates = found.map(
    ({ learnedId, model, runs, gainPerRun, learnedAt, refusal }): AdoptionCandidate => ({
      learnedId,
      slug: model.slug,
      name: modelWords(model),
      runs,
      gainPerRun,
      learnedOn: dateText(learnedAt),
      isAdopted: inUse.has(model.id),
      refusal,
    }),
  );
  const adoptable = candidates.filter(({ refusal }) => refusal === null);
  return {
    world,
    label,
    engine: METHOD_VERSION,
    currentVersionId: current?.id ?? null,
    candidates,
    adoptable,
    returning: inUse.size - adoptable.filter(({ isAdopted }) => isAdopted).length,
    isComputing,
    progress: isComputing ? await progressOfJob(registry.db, RENORMALISE_JOB, label) : null,
  };
}
