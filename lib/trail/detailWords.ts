const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;
const DIGEST = /^[0-9a-f]{64}$/;
const MOST_CHARACTERS = 400;

/** The details of an entry as people read them: names in words, no identifiers, digests by their beginning. */
export function detailWords(details: unknown): string {
  const words = wordsOf(details);
  return words.length > MOST_CHARACTERS ? `${words.slice(0, MOST_CHARACTERS)}…` : words;
}

/** "draftVersion" as "draft version". */
export function nameWords(name: string): string {
  return name.replace(
    /([a-z0-9])([A-Z])/g,
    (_, before: string, after: string) => `${before} ${after.toLowerCase()}`,
  );
}

function wordsOf(value: unknown): string {
  if (typeof value === 'string')
    return DIGEST.test(value) ? value.slice(0, 8) : UUID.test(value) ? '' : value;
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  if (Array.isArray(value)) return value.map(wordsOf).filter(Boolean).join(', ');
  if (typeof value !== 'object' || value === null) return '';
  const parts = Object.entries(value);
  if (parts.length === 2 && 'before' in value && 'after' in value)
    return `${wordsOf(value.before) || 'nothing'} → ${wordsOf(value.after) || 'nothing'}`;
  return parts
    .flatMap(([name, part]) => {
      const words = wordsOf(part);
      return words === '' ? [] : `${nameWords(name)}: ${words}`;
    })
    .join('; ');
}
