import type { FormSubjects } from '@/lib/registry/runs/formSubjects';

/** The name of a car, setup or loop that was chosen; undefined of anything else. */
export function nameOfChosen(
  name: string,
  id: string,
  lists: Pick<FormSubjects, 'cars' | 'loops'> | undefined,
): string | undefined {
  const things = new Map<string, readonly { id: string; name: string }[] | undefined>([
    ['carId', lists?.cars],
    [
      'setupId',
      lists?.cars.flatMap(({ setups }) => setups.map(({ id: of, title }) => ({ id: of, name: title }))),
    ],
    ['loopId', lists?.loops],
  ]).get(name);
  return things?.find((thing) => thing.id === id)?.name;
}
