import type { CompareQuery } from '@/lib/registry/comparisons/compare';
import { isStorableText } from '@/lib/run/storableText';
import { ADDRESS_NAMES } from '@/lib/units/display';
import { one, type SearchParams } from '../rankings/query';

export const DEFAULT_WANTED_PERCENT = 2;
export const POWERS = [0.8, 0.9] as const;

export function all(params: SearchParams, name: string): string[] {
  const value = params[name];
  return (Array.isArray(value) ? value : value === undefined ? [] : [value]).filter(
    (text) => text !== '' && isStorableText(text),
  );
}

/** The setups in the order of the address: the first is what the others are held against. */
export function compareQuery(params: SearchParams): CompareQuery {
  const percent = Number(one(params, 'want'));
  const power = Number(one(params, 'power'));
  return {
    classKey: one(params, 'class'),
    world: one(params, 'world'),
    find: one(params, 'find'),
    setupSlugs: [...new Set(all(params, 'setup'))],
    wanted: {
      percent: percent > 0 && percent <= 50 ? percent : DEFAULT_WANTED_PERCENT,
      power: POWERS.find((known) => known === power) ?? POWERS[0],
    },
  };
}

/** The same comparison with another class, set of setups or way to show numbers, or another page of it. */
export function compareHref(
  params: SearchParams,
  changes: Record<string, string | undefined>,
  setupSlugs = all(params, 'setup'),
  path = '/compare',
): string {
  const next = new URLSearchParams();
  for (const name of ['class', 'world', 'want', 'power', ...Object.values(ADDRESS_NAMES)]) {
    const value = name in changes ? changes[name] : one(params, name);
    if (value !== undefined) next.set(name, value);
  }
  for (const slug of setupSlugs) next.append('setup', slug);
  const query = next.toString();
  return query === '' ? path : `${path}?${query}`;
}
