import { authorise } from '@/lib/access/authorise';
import { NotFound } from '@/lib/run/errors';
import { factorLabel } from '@/lib/run/factors';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { loopToCurate, modelToCurate } from '@/lib/store/curatedThings';
import type { Registry } from '../registry';

export type CuratedKind = 'loop' | 'model';

export interface CuratedThing {
  kind: CuratedKind;
  slug: string;
  /** As it is seen, in words. */
  words: string;
  name: string;
  variant: string | undefined;
  hiddenReason: string | null;
  levels: { id: string; factor: string; label: string; isDelivered: boolean; hiddenReason: string | null }[];
}

/** A thing with a public name as stewards change that; its levels where it is a model. */
export async function readCurated(
  registry: Registry,
  actor: Actor | undefined,
  { kind, slug }: { kind: CuratedKind; slug: string },
): Promise<CuratedThing> {
  authorise(actor, 'curateNames');
  const found = isSlug(slug) ? await thingOf(registry, kind, slug) : undefined;
  if (found === undefined) throw new NotFound(`This ${kind} does not exist.`);
  authorise(actor, 'curateNames', undefined, worldKey(found.world));
  return found.thing;
}

async function thingOf({ db }: Registry, kind: CuratedKind, slug: string) {
  if (kind === 'loop') {
    const loop = await loopToCurate(db, slug);
    if (loop === null) return undefined;
    const { name, hiddenReason, world } = loop;
    const thing: CuratedThing = {
      kind,
      slug,
      words: name,
      name,
      variant: undefined,
      hiddenReason,
      levels: [],
    };
    return { world, thing };
  }
  const model = await modelToCurate(db, slug);
  if (model === null) return undefined;
  const levels = model.levels.map(({ factor, isBaseline, ...level }) => ({
    id: level.id,
    label: level.label,
    hiddenReason: level.hiddenReason,
    factor: factorLabel(factor),
    isDelivered: isBaseline,
  }));
  const { name, variant, hiddenReason, world } = model;
  const thing: CuratedThing = { kind, slug, words: modelWords(model), name, variant, hiddenReason, levels };
  return { world, thing };
}
