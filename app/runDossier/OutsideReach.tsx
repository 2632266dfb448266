import { Notice } from '@/app/ui/Notice';
import type { RunOutsideReach } from '@/lib/physics/normalise';
import type { Display } from '@/lib/units/display';
import { sayFound } from '@/lib/units/said';

/** Why a run has its measured number and no comparable one. */
export function OutsideReach({ run, display }: { run: RunOutsideReach; display: Display }) {
  return (
    <Notice kind="caution" title="Recorded, but not brought to reference conditions">
      <ul className="space-y-1">
        {run.reach.reasons.map((reason) => (
          <li key={reason.code}>{sayFound({ sentence: reason.message, said: reason.said }, display)}</li>
        ))}
      </ul>
      <p>
        The measured consumption stays in the record with its readings. It takes no part in rankings or
        comparisons: a number whose adjustment is not known to be right is worse than none.
      </p>
    </Notice>
  );
}
