/** Half of a pair of UTF-16 units without its other half: no character, and no JSON column takes it. */
const LONE_SURROGATE = /\p{Surrogate}/u;

/** PostgreSQL keeps no NUL in a text (manual, 8.3) and no lone surrogate in a jsonb (manual, 8.14; RFC 7493, 2.1). */
export function isStorableText(text: string): boolean {
  return !text.includes('\0') && !LONE_SURROGATE.test(text);
}

const LONGEST_SEARCH = 100;

/** What to search for, out of what stands in an address: undefined where nothing is left of it. */
export function searchText(given: string | undefined): string | undefined {
  const text = given
    ?.replaceAll('\0', '')
    .replaceAll(/\p{Surrogate}/gu, '')
    .trim()
    .slice(0, LONGEST_SEARCH);
  return text === undefined || text === '' || !isStorableText(text) ? undefined : text;
}

/** A place in what was sent, by its parent: copying whole paths would cost the square of the depth. */
interface Place {
  value: unknown;
  name: string;
  within: Place | undefined;
}

/**
 * The path of the first text, as value or as name, that cannot be stored in what was sent; undefined where all can.
 * Without recursion: what was sent may be nested deeply. Bytes are not looked into.
 */
export function unstorablePath(sent: unknown): string | undefined {
  const open: Place[] = [{ value: sent, name: '', within: undefined }];
  for (let place = open.pop(); place !== undefined; place = open.pop()) {
    const { value } = place;
    if (typeof value === 'string' && !isStorableText(value)) return pathTo(place);
    if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) continue;
    for (const [name, inner] of Object.entries(value)) {
      if (!isStorableText(name)) return pathTo(place);
      open.push({ value: inner, name, within: place });
    }
  }
  return undefined;
}

function pathTo(place: Place): string {
  const names: string[] = [];
  for (let at = place; at.within !== undefined; at = at.within) names.push(at.name);
  return names.reverse().join('.');
}
