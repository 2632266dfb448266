import type { FormSubjects } from '@/lib/registry/runs/formSubjects';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { RunForm } from '@/lib/run/runForm';
import { offsetLabel, typedOffset } from '@/lib/run/utcOffset';

/** A day in a line: what was driven, where and how fast, as far as it is chosen. */
export function dayLine({ cars, loops }: Pick<FormSubjects, 'cars' | 'loops'>, day: RunForm): string {
  return [
    cars.find(({ id }) => id === day.carId)?.name,
    loops.find(({ id }) => id === day.loopId)?.name,
    cruiseClassByKey(day.cruiseClassKey ?? '')?.label,
    day.utcOffsetMin ? offsetLabel(typedOffset(day.utcOffsetMin)) : undefined,
  ]
    .filter((part) => part !== undefined)
    .join(' · ');
}
