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

/**
 * What makes two names the same, such as “Löw” and “low”: unlike a slug it keeps the letters of every script and the
 * signs, so that “+0.2 bar” is not “−0.2 bar” and “Eco+” not “Eco”. Letters, digits and hyphens only, never empty.
 */
export function nameKey(name: string): string {
  const key = name
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .normalize('NFC')
    .toLowerCase()
    .replaceAll('+', ' plus ')
    .replace(/\u2212|(?<![^\s(])[-\u2010-\u2013](?=\d)/g, ' minus ')
    .replace(/[^\p{L}\p{N}\p{M}]+/gu, '-')
    .replace(/^-+|-+$/g, '');
  return key === '' ? Array.from(name, (letter) => letter.codePointAt(0)?.toString(16)).join('-') : key;
}

/** Whether an address's text can be a slug at all: nothing else is worth asking the database for. */
export function isSlug(text: string): boolean {
  return /^[a-z0-9-]{1,120}$/.test(text);
}

/** The first of slug, slug-2, slug-3 … that is free. */
export async function freeSlug(text: string, isTaken: (slug: string) => Promise<boolean>): Promise<string> {
  const base = slugOf(text);
  for (let ordinal = 1; ; ordinal += 1) {
    const slug = ordinal === 1 ? base : `${base}-${ordinal}`;
    if (!(await isTaken(slug))) return slug;
  }
}
