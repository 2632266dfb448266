import { FACTORS, type FactorKey, factorLabel } from './factors';

/** A setup as a heading lists it, and as a sentence calls it. */

export const AS_DELIVERED = 'As delivered';

const BETWEEN = ' · ';

/** What differs from the car as delivered, in the order of the factors: "Ride height: low · Drive mode: Eco". */
export function setupTitle(changed: readonly { factor: string; label: string }[]): string {
  if (changed.length === 0) return AS_DELIVERED;
  const order = FACTORS.map((factor) => factor.key as string);
  return changed
    .toSorted((a, b) => order.indexOf(a.factor) - order.indexOf(b.factor))
    .map((level) => `${factorLabel(level.factor)}: ${level.label}`)
    .join(BETWEEN);
}

/**
 * The title as a name within a sentence: “Low ride height with eco drive mode”, the car as delivered. What is no list
 * of levels (a cruise speed, a model before them) keeps its words.
 */
export function setupInText(title: string): string {
  if (title === AS_DELIVERED) return 'the car as delivered';
  const names: string[] = [];
  for (const part of title.split(BETWEEN)) {
    const level = levelIn(part);
    const last = names.at(-1);
    if (level !== undefined) names.push(nameOfLevel(level.factor, level.label));
    else if (part === AS_DELIVERED && last !== undefined) names[names.length - 1] = `${last} as delivered`;
    // a name that holds the sign between two levels is one name all the same
    else if (last !== undefined && part !== '') names[names.length - 1] = `${last}${BETWEEN}${part}`;
    else names.push(part);
  }
  const [first = '', second, ...rest] = names;
  if (second === undefined) return `“${capital(first)}”`;
  const others = [second, ...rest].map(inMidSentence);
  const listed =
    others.length === 1 ? others[0] : `${others.slice(0, -1).join(', ')} and ${others[others.length - 1]}`;
  return `“${capital(first)} with ${listed}”`;
}

/** The same where a sentence begins. */
export const setupAtStart = (title: string): string => capital(setupInText(title));

function levelIn(part: string): { factor: FactorKey; label: string } | undefined {
  for (const { key, label } of FACTORS) {
    if (part.startsWith(`${label}: `)) return { factor: key, label: part.slice(label.length + 2) };
  }
  return undefined;
}

/** What a factor is called beside its level, and the words by which a level's own name says so already. */
const NOUNS: Readonly<Record<FactorKey, { noun: string; said: RegExp }>> = {
  driveMode: { noun: 'drive mode', said: /mode/i },
  rideHeight: { noun: 'ride height', said: /height|suspension|chassis|springs/i },
  wheelTyre: { noun: 'wheels and tyres', said: /tyre|tire|wheel|rim/i },
  tyrePressure: { noun: 'tyre pressure', said: /pressure/i },
  load: { noun: 'load', said: /^[^\d+−-]|\p{L}\P{L}+\p{L}/u },
  openingsCovers: { noun: 'openings and covers', said: /./ },
  roofHitch: { noun: 'roof and hitch', said: /./ },
  cabinClimate: { noun: 'cabin climate', said: /./ },
};

const STATE = /^(on|off|open|closed|shut)(?=,|$)/i;
const PREPOSITION = /^(above|below|over|under|at|with|without|as)\b/i;
/** Where the noun goes in a longer name: “18-inch wheels and tyres with covers”. */
const ADDED = /,| with | without | \(|$/;

/** A level's name as a noun: what its tester called it, with what it is of where that does not say it. */
function nameOfLevel(factor: FactorKey, label: string): string {
  const { noun, said } = NOUNS[factor];
  if (STATE.test(label) || (PREPOSITION.test(label) && !said.test(label))) return `${noun} ${lower(label)}`;
  return said.test(label) ? label : label.replace(ADDED, (rest) => ` ${noun}${rest}`);
}

/** Names of makers keep their capital: a word that has one is followed by another that does, or is all capitals. */
function inMidSentence(name: string): string {
  const [, second = ''] = name.split(' ');
  return /^\p{Lu}/u.test(second) ? name : lower(name);
}

const lower = (text: string) =>
  /^\p{Lu}\p{Ll}/u.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
