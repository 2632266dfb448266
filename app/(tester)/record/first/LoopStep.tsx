import { Button } from '@/app/ui/Button';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { Link } from '@/app/ui/Link';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import type { LoopProposal } from '@/lib/reduction/loopProposal';
import type { FirstRunView } from '@/lib/registry/runs/firstRun';
import type { Display } from '@/lib/units/display';
import { AddProposed } from '../../my/loops/from-trace/AddProposed';
import { Proposal } from '../../my/loops/from-trace/Proposal';
import { AddLoop } from '../../my/loops/new/AddLoop';
import { FIRST_RUN } from '../../waiting';
import { UploadTrace } from '../[runId]/trace/UploadTrace';

/** What stands for a loop that is described by hand. */
export const BY_HAND = 'byHand';

interface LoopStepProps {
  view: FirstRunView;
  isByHand: boolean;
  /** What a recording that was sent makes of it. */
  proposed: { traceId: string; proposal: LoopProposal } | undefined;
  display: Display;
}

/** A loop from a recording first, one that others drive second, by hand third. */
export function LoopStep({ view, isByHand, proposed, display }: LoopStepProps) {
  if (proposed !== undefined) {
    return (
      <>
        <Proposal proposal={proposed.proposal} display={display} />
        <AddProposed traceId={proposed.traceId} values={proposed.proposal.form} run={FIRST_RUN} />
        <OtherWay />
      </>
    );
  }
  if (isByHand) {
    return (
      <>
        <AddLoop run={FIRST_RUN} />
        <OtherWay />
      </>
    );
  }
  return (
    <>
      <SafetyCaution kind="plan" />
      <h3 className="mt-6">From a recording of it</h3>
      <p className="mt-1 mb-4 max-w-[46rem]">
        One drive out and back with a phone’s or a logger’s satellite positioning says nearly all of it.
      </p>
      <UploadTrace to="/my/loops/from-trace/upload" then="/record/first" isReplacing={false} isForLoop />
      {view.loops.length > 0 ? (
        <>
          <h3 className="mt-10">One that is in the registry</h3>
          <form
            action="/record/first#next"
            aria-label="Loop in the registry"
            className="mt-3 flex flex-wrap items-end gap-4"
          >
            <ChoiceField
              name="loop"
              label="Loop"
              required
              emptyLabel="Choose the loop"
              options={view.loops.map(({ id, name, region, length }) => ({
                value: id,
                label: `${name}, ${region}, ${length}`,
              }))}
            />
            <Button type="submit">It is this one</Button>
          </form>
          {view.hasMoreLoops ? (
            <p className="mt-2 text-sm text-ink-soft">
              There are more than these: the run’s form finds them all.
            </p>
          ) : null}
        </>
      ) : null}
      <h3 className="mt-10">By hand</h3>
      <p className="mt-1">
        <Link className="link inline-flex min-h-6 items-center" href={`/record/first?loop=${BY_HAND}#next`}>
          Describe it, with a map at hand
        </Link>
      </p>
    </>
  );
}

function OtherWay() {
  return (
    <p className="mt-6">
      <Link className="link inline-flex min-h-6 items-center" href="/record/first#next">
        Choose the loop another way
      </Link>
    </p>
  );
}
