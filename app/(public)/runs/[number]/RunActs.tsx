import type { RunView } from '@/lib/registry/runs/run';
import { hold, lift, retract } from './actions';
import { ReasonForm } from './ReasonForm';

/** What takes a run out of what counts, for good or for a while, and what brings it back. */
export function RunActs({ view: { runId, number, allowed, hold: held } }: { view: RunView }) {
  const run = { runId, number };
  return (
    <>
      {allowed.hold && held === null ? (
        <ReasonForm
          {...run}
          id="hold"
          action={hold}
          verb="Hold"
          pending="Holding…"
          label="What is looked into"
          hint="Every reader of the run sees it. The run does not count until the hold is lifted."
        />
      ) : null}
      {allowed.hold && held !== null ? (
        <ReasonForm
          {...run}
          id="lift"
          action={lift}
          verb="Lift the hold on"
          pending="Lifting…"
          label="What was found"
          hint="It is kept with the run. An approved run counts again from the next fit on."
        />
      ) : null}
      {allowed.retract ? (
        <ReasonForm
          {...run}
          id="retract"
          action={retract}
          verb="Retract"
          pending="Retracting…"
          label="What was wrong"
          hint="Every reader of the run sees it. A retraction cannot be taken back; the run stays readable."
          isFinal
        />
      ) : null}
    </>
  );
}
