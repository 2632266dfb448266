const PREFIX = 'retyped-';

/** The field in which a reading is typed again. */
export const retypedField = (quantity: string) => `${PREFIX}${quantity}`;

/** What was typed, by reading. */
export function retypedTexts(data: FormData): Record<string, string> {
  return Object.fromEntries(
    [...data].flatMap(([name, value]) =>
      name.startsWith(PREFIX) && typeof value === 'string' ? [[name.slice(PREFIX.length), value]] : [],
    ),
  );
}
