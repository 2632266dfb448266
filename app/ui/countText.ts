export interface Counts {
  runs?: number;
  cars?: number;
  testers?: number;
  loops?: number;
  sessions?: number;
  days?: number;
}

const words: readonly [keyof Counts, string, string][] = [
  ['runs', 'run', 'runs'],
  ['cars', 'car', 'cars'],
  ['testers', 'tester', 'testers'],
  ['loops', 'loop', 'loops'],
  ['sessions', 'session', 'sessions'],
  ['days', 'day', 'days'],
];

/** "12 runs · 3 cars · 2 testers · 1 loop": what an estimate rests on, only what is given. */
export function countText(counts: Counts): string {
  return words
    .flatMap(([key, one, many]) => {
      const n = counts[key];
      return n === undefined ? [] : [`${n} ${n === 1 ? one : many}`];
    })
    .join(' · ');
}
