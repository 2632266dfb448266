import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { NotFound } from '@/lib/run/errors';
import { factorLabel } from '@/lib/run/factors';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { loopToCurate, modelToCurate } from '@/lib/store/curatedThings';
import { carsBeside, carToMerge } from '@/lib/store/mergedCars';
import type { Registry } from '../registry';

/** More cars of one owner and model are not offered. */
const MOST_BESIDE = 20;

export type CuratedKind = 'loop' | 'model' | 'car';

/** Of an address; a loop where it says nothing else. */
export function curatedKind(text: string | undefined): CuratedKind {
  return text === 'model' || text === 'car' ? text : 'loop';
}

export interface CuratedThing {
  kind: CuratedKind;
  /** Of its address; of a car its id. */
  slug: string;
  /** As it is seen, in words. */
  words: string;
  name: string;
  variant: string | undefined;
  hiddenReason: string | null;
  levels: { id: string; factor: string; label: string; isDelivered: boolean; hiddenReason: string | null }[];
  /** Of a car: whose it is, and the others of that owner and model. */
  owner?: { displayName: string; slug: string };
  beside?: { id: string; name: string; runs: number }[];
}

/** A thing with a public name as stewards change that; its levels where it is a model. */
export async function readCurated(
  registry: Registry,
  actor: Actor | undefined,
  { kind, slug }: { kind: CuratedKind; slug: string },
): Promise<CuratedThing> {
  authorise(actor, 'curateNames');
  const isKey = kind === 'car' ? z.uuid().safeParse(slug).success : isSlug(slug);
  const found = isKey ? await thingOf(registry, kind, slug) : undefined;
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
  if (kind === 'car') {
    const car = await carToMerge(db, slug);
    if (car === null) return undefined;
    const { name, hiddenReason, world, owner } = car;
    const beside = await carsBeside(db, car, MOST_BESIDE);
    const thing: CuratedThing = {
      kind,
      slug,
      words: name,
      name,
      variant: undefined,
      hiddenReason,
      levels: [],
      owner,
      beside: beside.map(({ id, name, _count }) => ({ id, name, runs: _count.runs })),
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
