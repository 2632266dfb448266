/** A readable piece of a URL: lower-case letters and digits joined by hyphens. */
export function slugOf(text: string): string {
  const slug = text
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 80);
  return slug === '' ? 'unnamed' : slug;
}

/** The first of slug, slug-2, slug-3 … that is free. */
export async function freeSlug(text: string, isTaken: (slug: string) => Promise<boolean>): Promise<string> {
  const base = slugOf(text);
  for (let ordinal = 1; ; ordinal += 1) {
    const slug = ordinal === 1 ? base : `${base}-${ordinal}`;
    if (!(await isTaken(slug))) return slug;
  }
}
