/**
 * Scripts in everyday use (UAX #31, table 5): letters of others are refused, as few readers could tell them apart.
 * Script_Extensions, so that a sign that several scripts share is of each.
 */
const RECOMMENDED = [
  'Arabic',
  'Armenian',
  'Bengali',
  'Bopomofo',
  'Cyrillic',
  'Devanagari',
  'Ethiopic',
  'Georgian',
  'Greek',
  'Gujarati',
  'Gurmukhi',
  'Han',
  'Hangul',
  'Hebrew',
  'Hiragana',
  'Kannada',
  'Katakana',
  'Khmer',
  'Lao',
  'Latin',
  'Malayalam',
  'Myanmar',
  'Oriya',
  'Sinhala',
  'Tamil',
  'Telugu',
  'Thaana',
  'Thai',
  'Tibetan',
] as const;

const SCRIPTS = RECOMMENDED.map(
  (name) => [name, new RegExp(`^\\p{Script_Extensions=${name}}$`, 'u')] as const,
);
const OF_ALL = /^[\p{Script=Common}\p{Script=Inherited}]$/u;

/** Writing systems that use several scripts in one word (UTS #39, 5.1, augmented script sets). */
const TOGETHER: readonly (readonly string[])[] = [
  ['Han', 'Hiragana', 'Katakana'],
  ['Han', 'Bopomofo'],
  ['Han', 'Hangul'],
];

/** The recommended scripts of a character; undefined where it is of all (digits, signs), empty where it is of none. */
function scriptsOf(character: string): string[] | undefined {
  const named = SCRIPTS.filter(([, pattern]) => pattern.test(character)).map(([name]) => name);
  if (named.length > 0) return named;
  return OF_ALL.test(character) ? undefined : [];
}

/**
 * Whether a word is at least Highly Restrictive by UTS #39, 5.2: of one script, or of Latin with one of the writing
 * systems of Chinese, Japanese and Korean.
 */
export function isOfOneWriting(word: string): boolean {
  const sets = [...word].flatMap((character) => {
    const scripts = scriptsOf(character);
    return scripts === undefined ? [] : [scripts];
  });
  if (sets.length === 0) return true;
  const isWithin = (allowed: readonly string[]) =>
    sets.every((scripts) => scripts.some((script) => allowed.includes(script)));
  if (RECOMMENDED.some((script) => isWithin([script]))) return true;
  return TOGETHER.some((scripts) => isWithin([...scripts, 'Latin']));
}

/** Letters of scripts that are not in everyday use. */
export function hasRareScript(text: string): boolean {
  return [...text].some((character) => scriptsOf(character)?.length === 0);
}
