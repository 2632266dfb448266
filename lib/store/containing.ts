/** Rows whose text has this in it, in any case; % and _ mean themselves (LIKE takes them for any letters). */
export function containing(text: string) {
  return { contains: text.replace(/[\\%_]/g, '\\$&'), mode: 'insensitive' as const };
}
