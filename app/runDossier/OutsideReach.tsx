import { Notice } from '@/app/ui/Notice';
import type { RunOutsideReach } from '@/lib/physics/normalise';

/** Why a run has its measured number and no comparable one. */
export function OutsideReach({ run }: { run: RunOutsideReach }) {
  return (
    <Notice kind="caution" title="Recorded, but not brought to reference conditions">
      <ul className="space-y-1">
        {run.reach.reasons.map((reason) => (
          <li key={reason.code}>{reason.message}</li>
        ))}
      </ul>
      <p>
        The measured consumption stays in the record with its readings. It takes no part in rankings or
        comparisons: a number whose adjustment is not known to be right is worse than none.
      </p>
    </Notice>
  );
}
