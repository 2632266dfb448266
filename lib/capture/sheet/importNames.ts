import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import type { InputIssue } from '@/lib/run/errors';
import { CHOICE_FIELDS } from '@/lib/run/fields/table';

/** A thing that a cell can name. */
export interface Named {
  id: string;
  name: string;
}

export interface ImportCar extends Named {
  setups: readonly Named[];
}

export interface ImportLoop extends Named {
  postedLimitMps: number;
}

/** What the names in a tester's sheet can mean. */
export interface ImportNames {
  cars: readonly ImportCar[];
  loops: readonly ImportLoop[];
}

export type Meaning<Thing> = { ok: true; thing: Thing } | { ok: false; issue: InputIssue };

/** The one thing of that name, capitals and spaces aside. A name of two things means neither. */
export function named<Thing extends Named>(
  text: string,
  things: readonly Thing[],
  words: { path: string; one: string; many: string; add: string },
): Meaning<Thing> {
  const wanted = plainName(text);
  const found = things.filter((thing) => plainName(thing.name) === wanted);
  const [only] = found;
  if (only !== undefined && found.length === 1) return { ok: true, thing: only };
  const shown = text.trim().slice(0, 60);
  const issue =
    shown === ''
      ? { what: `No ${words.one} is named.`, fix: `Name the ${words.one}, or choose one for all rows.` }
      : found.length > 1
        ? {
            what: `“${shown}” is the name of ${found.length} ${words.many}.`,
            fix: 'Give each its own name first.',
          }
        : { what: `There is no ${words.one} “${shown}” among ${words.many}.`, fix: words.add };
  const why = 'A run belongs to one car, one setup and one loop.';
  return { ok: false, issue: { path: words.path, why, ...issue } };
}

/** The key of the class that a cell gives by key or label; the cell's own text where it gives none. */
export function cruiseClassKeyOf(text: string): string {
  const wanted = plainName(text);
  const found = CRUISE_CLASSES.find(
    ({ key, label }) => plainName(key) === wanted || plainName(label) === wanted,
  );
  return found?.key ?? text;
}

/** The value of a choice that a cell gives by value or label; the cell's own text where it gives none. */
export function choiceValueOf(name: string, text: string): string {
  const field = CHOICE_FIELDS.find((one) => one.name === name);
  const wanted = plainName(text);
  const found = field?.options.find(
    ({ value, label }) => plainName(value) === wanted || plainName(label) === wanted,
  );
  return found?.value ?? text;
}

/** Minutes east of UTC from `+01:00`, `UTC-3`, `Z` (ISO 8601) or plain minutes; the text itself where it is none. */
export function offsetMinutesOf(text: string): string {
  // Programs that guard texts against being read as formulas put an apostrophe before a sign.
  const squeezed = text.replace(/\s/g, '').replace(/^'/, '').replace('\u2212', '-');
  if (/^(Z|UTC|GMT)$/i.test(squeezed)) return '0';
  const match = /^(?:UTC|GMT)?([+-])(\d{1,2})(?::?([0-5]\d))?$/i.exec(squeezed);
  const hours = Number(match?.[2]);
  if (match === null || hours > 14) return text;
  return String((match[1] === '-' ? -1 : 1) * (hours * 60 + Number(match[3] ?? 0)));
}

/** What two names have in common that mean one thing: capitals and spaces aside. */
export function plainName(text: string): string {
  return text.normalize('NFKC').toLowerCase().replace(/\s+/g, '');
}
