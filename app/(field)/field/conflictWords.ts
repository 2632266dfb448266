import type { FieldLists } from '@/lib/registry/runs/fieldCard';
import { valueWords } from '@/lib/run/fields/fieldWords';

const EMPTY_WORDS = 'empty';

/** A value as it was chosen or typed: ids by their names, choices by their labels. */
export function fieldValue(name: string, value: string | undefined, lists: FieldLists | undefined): string {
  if (value === undefined || value === '') return EMPTY_WORDS;
  const things = new Map<string, readonly { id: string; name: string }[] | undefined>([
    ['carId', lists?.cars],
    ['setupId', lists?.cars.flatMap(({ setups }) => setups.map(({ id, title }) => ({ id, name: title })))],
    ['loopId', lists?.loops],
  ]).get(name);
  const thing = things?.find(({ id }) => id === value);
  return thing?.name ?? valueWords(name, value);
}
