import type { RankingQuery } from '@/lib/registry/rankings/rankings';
import { isStorableText } from '@/lib/run/storableText';

export type SearchParams = Record<string, string | string[] | undefined>;

/** The one value of a search parameter; repeated ones count as their first, and what is no text as none. */
export function one(params: SearchParams, name: string): string | undefined {
  const value = Object.hasOwn(params, name) ? params[name] : undefined;
  const first: unknown = Array.isArray(value) ? value[0] : value;
  return typeof first !== 'string' || first === '' || !isStorableText(first) ? undefined : first;
}

const count = (text: string | undefined): number | undefined => {
  const value = Number(text);
  return Number.isInteger(value) && value > 0 ? value : undefined;
};

export function rankingQuery(params: SearchParams): RankingQuery {
  return {
    classKey: one(params, 'class'),
    world: one(params, 'world'),
    bodyClass: one(params, 'body'),
    tyreKind: one(params, 'tyre'),
    modelSlug: one(params, 'model'),
    level: one(params, 'level'),
    leastRuns: count(one(params, 'runs')),
    leastCars: count(one(params, 'cars')),
    from: one(params, 'from'),
    by: one(params, 'by') === 'body' ? 'body' : 'model',
    isRaw: one(params, 'show') === 'raw',
    temperature: one(params, 'temp'),
    protocol: one(params, 'protocol'),
  };
}

/** The same page in the reader's own unit; undefined where the address asks for none. */
export function ownUnitHref(path: string, params: SearchParams, sectionId?: string): string | undefined {
  if (one(params, 'unit') === undefined) return undefined;
  const href = hrefWith(path, params, { unit: undefined });
  return sectionId === undefined ? href : `${href}#${sectionId}`;
}

/** The address of the same page with some parameters changed or taken away. */
export function hrefWith(
  path: string,
  params: SearchParams,
  changes: Record<string, string | undefined>,
): string {
  const next = new URLSearchParams();
  for (const name of Object.keys(params)) {
    const value = one(params, name);
    if (value !== undefined) next.set(name, value);
  }
  for (const [name, value] of Object.entries(changes)) {
    if (value === undefined) next.delete(name);
    else next.set(name, value);
  }
  const query = next.toString();
  return query === '' ? path : `${path}?${query}`;
}
