import type { MergePreview } from '@/lib/registry/names/merging';

/** Titles in one sentence are few; the others are counted. */
const MOST_NAMED = 6;

/** What a merge would do, sentence by sentence, in numbers. */
export function mergeSentences(preview: MergePreview): string[] {
  const {
    from,
    into,
    runs,
    counted,
    sessions,
    joined = 0,
    cars,
    studies,
    levels,
    setups,
    owners,
    classes,
  } = preview;
  const days =
    sessions === undefined
      ? ''
      : `, on ${counting(sessions, 'day')}${joined > 0 ? `, ${joined} of which ${into.words} knows as well: such a day becomes one` : ''}`;
  return [
    `${counting(runs, 'run')} of ${from.words} would be of ${into.words}, ${counted} of them counting${days}.`,
    ...(owners === undefined
      ? []
      : [
          `It is ${owners[0]}’s and ${owners[1]}’s: as both drove one vehicle, they count as one tester where independent ones are asked for. Each run stays with who drove it, and so do calibrations.`,
        ]),
    ...(cars === undefined
      ? []
      : [`With it: ${counting(cars, 'car')} and ${studies === 1 ? '1 study' : `${studies ?? 0} studies`}.`]),
    ...(levels === undefined
      ? []
      : [
          ...some(levels.joined, 'level', `would be one that ${into.words} has`),
          ...some(levels.moved, 'level', `would be new there`),
        ]),
    ...(setups === undefined
      ? []
      : [
          ...some(
            setups.joined,
            'setup',
            'would become the same as one that is there, and its address would lead to that',
          ),
          ...some(setups.moved, 'setup', 'would go on as one of its own, at its address'),
        ]),
    classes.length > 0 ? `Fitted again: ${classes.join(', ')}.` : 'No class is fitted again.',
    'No number of a run moves. It cannot be undone.',
  ];
}

function some(titles: readonly string[], what: string, would: string): string[] {
  if (titles.length === 0) return [];
  const named = titles.slice(0, MOST_NAMED).map((title) => `“${title}”`);
  const more = titles.length - named.length;
  return [
    `${counting(titles.length, what)} ${would}: ${named.join(', ')}${more > 0 ? ` and ${more} more` : ''}.`,
  ];
}

const counting = (n: number, one: string) => `${n} ${one}${n === 1 ? '' : 's'}`;
