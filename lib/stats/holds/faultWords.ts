import type { Fault } from './intervalsHold';

const WORDS: Readonly<Record<Fault, string>> = {
  narrow: 'they held less often than they say',
  wide: 'they are wider than they need to be',
  uneven: 'some cars, testers or loops scatter more than the rest, so one width does not fit all',
  carsNarrow: 'cars of one model differ more than they allow for',
};

/** One sentence on intervals that did not pass, the same wherever they stand; undefined where nothing speaks against them. */
export function faultWords(classLabel: string, faults: readonly Fault[] | null): string | undefined {
  if (faults === null || faults.length === 0) return undefined;
  const found = faults.map((fault) => WORDS[fault]);
  const all = found.length === 1 ? found[0] : `${found.slice(0, -1).join(', ')}, and ${found.at(-1)}`;
  return `The intervals at ${classLabel} did not pass when later runs were held against them: ${all}.`;
}
