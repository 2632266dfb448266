/** Lists are read from a place in a fixed order, never by counting rows from the beginning. */

/** The key of a row that was shown, and to which side of it the wanted rows lie in the order of the list. */
export interface Place<Key> {
  side: 'after' | 'before';
  key: Key;
}

type Direction = 'asc' | 'desc';

/** In which direction to read from a place on; what lies before it comes back in reverse. */
export function readingOrder(place: Place<unknown> | undefined, forward: Direction): Direction {
  if (place?.side !== 'before') return forward;
  return forward === 'asc' ? 'desc' : 'asc';
}

/**
 * Rows beyond a place in the order of two columns, of which the pair is unique. The comparison of the first column
 * alone adds nothing to the meaning: it lets a scan of an index begin at the place.
 */
export function beyond<Where>(
  [first, second]: readonly [keyof Where & string, keyof Where & string],
  place: Place<readonly [unknown, unknown]> | undefined,
  forward: Direction,
): Where[] {
  if (place === undefined) return [];
  const [a, b] = place.key;
  const beyondIt = readingOrder(place, forward) === 'asc' ? 'gt' : 'lt';
  return [
    { [first]: { [`${beyondIt}e`]: a } },
    { OR: [{ [first]: { [beyondIt]: a } }, { [second]: { [beyondIt]: b } }] },
  ] as Where[];
}

/** The same where the rows' own id is their order. */
export function beyondId(
  place: Place<bigint> | undefined,
  forward: Direction,
): { id?: { gt: bigint } | { lt: bigint } } {
  if (place === undefined) return {};
  return { id: readingOrder(place, forward) === 'asc' ? { gt: place.key } : { lt: place.key } };
}

/** The same where one column that is unique is the order. */
export function beyondOne<Where>(
  column: keyof Where & string,
  place: Place<unknown> | undefined,
  forward: Direction,
): Where[] {
  if (place === undefined) return [];
  return [{ [column]: { [readingOrder(place, forward) === 'asc' ? 'gt' : 'lt']: place.key } }] as Where[];
}
