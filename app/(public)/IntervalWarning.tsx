import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { RECORD, type WorldKey } from '@/lib/run/world';
import { faultWords } from '@/lib/stats/holds/faultWords';
import type { Fault } from '@/lib/stats/holds/intervalsHold';

export interface CheckedClass {
  classKey: string;
  classLabel: string;
  world: WorldKey;
  faults: Fault[] | null;
}

export function intervalsHref({ classKey, world }: Pick<CheckedClass, 'classKey' | 'world'>): string {
  return `/intervals?${new URLSearchParams({ class: classKey, ...(world === RECORD ? {} : { world }) })}`;
}

/** Wherever intervals of a class stand that did not pass; nothing where nothing speaks against them. */
export function IntervalWarning(of: CheckedClass) {
  const words = faultWords(of.classLabel, of.faults);
  if (words === undefined) return null;
  return (
    <Notice kind="caution" title={words}>
      <Link className="link" href={intervalsHref(of)}>
        What was counted at {of.classLabel}
      </Link>
    </Notice>
  );
}
