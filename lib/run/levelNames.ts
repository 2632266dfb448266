import type { FactorKey } from './factors';
import { nameKey, slugOf } from './slug';

/** A shared level to choose from, of one factor. */
export interface OfferedLevel {
  id: string;
  words: string;
}

/** What a steward may want to map a level to: one that is there, or one that would have to be named first. */
export type Suggestion = { id: string; words: string } | { id: undefined; words: string };

/** What testers call a level, by the words that the level would be known under. Common practice, no source. */
const KNOWN: Readonly<Record<FactorKey, Readonly<Record<string, readonly string[]>>>> = {
  driveMode: {
    Normal: ['normal', 'standard', 'comfort', 'default'],
    Eco: ['eco', 'economy', 'efficiency', 'range', 'saving'],
    Sport: ['sport', 'dynamic'],
  },
  rideHeight: {
    Normal: ['normal', 'standard', 'medium'],
    Low: ['low', 'lower', 'lowered', 'lowest'],
    High: ['high', 'higher', 'raised', 'highest'],
  },
  wheelTyre: {
    'Summer tyres': ['summer'],
    'Winter tyres': ['winter'],
    'All-season tyres': ['all-season', 'allseason'],
    'All-terrain tyres': ['all-terrain', 'allterrain'],
  },
  tyrePressure: {
    Placard: ['placard'],
    'Placard, full load': ['placard-full', 'full-load'],
    'Above the placard': ['above', 'over', 'overinflated'],
  },
  load: {
    'Driver only': ['driver-only', 'driver', 'empty', 'unloaded', 'unladen'],
  },
  openingsCovers: {
    Closed: ['closed', 'shut'],
    Open: ['open', 'off', 'without'],
  },
  roofHitch: {
    'Nothing outside': ['bare', 'nothing', 'none'],
    'Roof box': ['roof-box', 'box'],
    'Roof rack': ['roof-rack', 'rack', 'roof-bars'],
    Bicycles: ['bicycle', 'bicycles', 'bike', 'bikes'],
  },
  cabinClimate: {
    Off: ['off'],
    On: ['on', 'auto', 'heating', 'cooling'],
  },
};

/**
 * What a level's name suggests: a shared level of the same name, or else one that its words are known for. Words that
 * point to two levels suggest neither, unless one of them says more ("placard, full load" more than "placard"). Only
 * ever a suggestion: nothing is mapped that a steward did not map.
 *
 * @param shared levels of the level's own factor
 */
export function suggestSharedLevel(
  factor: string,
  label: string,
  shared: readonly OfferedLevel[],
): Suggestion | undefined {
  const key = nameKey(label);
  const same = shared.find(({ words }) => nameKey(words) === key);
  if (same !== undefined) return same;
  const name = nameOf(label);
  if (name === '') return undefined;
  const words = knownWords(factor, name);
  if (words === undefined) return undefined;
  const known = shared.find((one) => nameOf(one.words) === nameOf(words));
  return known ?? { id: undefined, words };
}

/** The known level with the longest of its words in the name; undefined where none is, or where two are as long. */
function knownWords(factor: string, name: string): string | undefined {
  const levels = Object.hasOwn(KNOWN, factor) ? KNOWN[factor as FactorKey] : {};
  const found = Object.entries(levels)
    .map(([words, said]) => ({
      words,
      length: Math.max(0, ...said.filter((word) => says(name, word)).map((word) => word.split('-').length)),
    }))
    .filter(({ length }) => length > 0)
    .sort((a, b) => b.length - a.length);
  const [first, second] = found;
  return first === undefined || second?.length === first.length ? undefined : first.words;
}

/** Whether the words stand in the name as whole words, side by side. */
const says = (name: string, words: string) => `-${name}-`.includes(`-${words}-`);

/** Lower case, without accents, words joined by hyphens; '' where there is nothing to read. */
function nameOf(label: string): string {
  const slug = slugOf(label);
  return slug === 'unnamed' ? '' : slug;
}
