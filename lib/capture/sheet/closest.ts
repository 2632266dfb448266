import { plainName } from './importNames';

interface Option {
  readonly value: string;
  readonly label: string;
}

/** How many letters of a name may differ for "did you mean": one in four, at least one. */
const mostChanges = (length: number): number => Math.max(1, Math.floor(length / 4));

/** The options by how little their names differ from the text, and the one that it may be a slip of. */
export function closestFirst<Of extends Option>(
  text: string,
  options: readonly Of[],
): { options: Of[]; nearest: string | undefined } {
  const wanted = plainName(text);
  const measured = options
    .map((option) => ({ option, changes: distanceTo(wanted, plainName(option.label)) }))
    .sort((a, b) => a.changes - b.changes);
  const [first, second] = measured;
  const isClear = first !== undefined && first.changes < (second?.changes ?? Number.POSITIVE_INFINITY);
  return {
    options: measured.map(({ option }) => option),
    nearest: isClear && first.changes <= mostChanges(wanted.length) ? first.option.label : undefined,
  };
}

/** As much of a text as a name can be. */
const LONGEST = 80;

/**
 * Least number of letters to put in, take out or replace (Levenshtein 1966, Soviet Physics Doklady 10, 707), by the
 * row-wise algorithm of Wagner and Fischer (1974, J. ACM 21, 168).
 */
export function distanceTo(from: string, to: string): number {
  const a = [...from].slice(0, LONGEST);
  const b = [...to].slice(0, LONGEST);
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const replaced = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(replaced, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}
