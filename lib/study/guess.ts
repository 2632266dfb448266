import type { NumberField } from '@/lib/run/numberField';

/** How large a reader expects a study's difference to be, in consumption; its direction is chosen beside it. */
export const GUESS_SIZE = {
  name: 'size',
  label: 'By how much, %',
  hint: 'Leave it empty where you expect no difference.',
  units: [],
  isRequired: true,
  range: [0, 50],
} as const satisfies NumberField;

/** Guesses of a study by what they say, and by where the result lay. */
export interface GuessCounts {
  total: number;
  less: number;
  none: number;
  more: number;
  /** Within the interval that came out; null where it has none. */
  within: number | null;
}

export function countGuessed(
  percents: readonly number[],
  interval: readonly [number, number] | null,
): GuessCounts {
  const count = (holds: (percent: number) => boolean) => percents.filter(holds).length;
  return {
    total: percents.length,
    less: count((percent) => percent < 0),
    none: count((percent) => percent === 0),
    more: count((percent) => percent > 0),
    within: interval === null ? null : count((percent) => percent >= interval[0] && percent <= interval[1]),
  };
}
