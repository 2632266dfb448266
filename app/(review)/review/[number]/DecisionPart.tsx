import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { secondReasonWords } from '@/lib/protocol/secondApproval';
import type { ReviewView } from '@/lib/registry/review/review';
import { DecisionForm } from './DecisionForm';

/** The form where this reviewer holds the claim; otherwise what is in the way. */
export function DecisionPart({ view }: { view: ReviewView }) {
  const { review, run, reasons } = view;
  if (review.kind === 'mine') {
    const notable = new Set(run.findings.notable.map((finding) => finding.ruleId));
    return (
      <>
        <SecondNeeded view={view} />
        <Mismatches view={view} />
        <DecisionForm
          runId={run.runId}
          number={run.number}
          revisionNumber={run.revisionNumber}
          isApprovable={view.isApprovable}
          failed={reasons.mustCite}
          cautioned={reasons.mayCite.filter((choice) => notable.has(choice.ruleId))}
          others={reasons.mayCite.filter((choice) => !notable.has(choice.ruleId))}
        />
      </>
    );
  }
  return (
    <>
      <p>
        {review.kind === 'free'
          ? 'Claim the run first: see the top of the page.'
          : 'There is nothing for you to decide here.'}
      </p>
      {view.nextNumber === null ? null : (
        <p className="mt-3">
          <Link className="link" href={`/review/${view.nextNumber}`}>
            Next in the queue: run {view.nextNumber}
          </Link>
        </p>
      )}
    </>
  );
}

/** Before the decision: whether an approval is one of two, and why. */
function SecondNeeded({ view }: { view: ReviewView }) {
  const { run, second } = view;
  if (run.awaitsSecond)
    return (
      <Notice kind="info" title="Yours is the second decision.">
        Another reviewer has approved this run; who, and with which words, you see after your own decision. If
        you approve, it counts; if you ask for changes or reject, that stands.
      </Notice>
    );
  if (second === null || second.reasons.length === 0) return null;
  const why = second.reasons.map(secondReasonWords).join('; ');
  return second.others > 0 ? (
    <Notice kind="info" title="An approval of this run needs a second one.">
      The reason: {why}. {second.others === 1 ? 'One other reviewer' : `${second.others} other reviewers`} can
      give it.
    </Notice>
  ) : (
    <Notice kind="caution" title="Two reviewers should read this run, but nobody else can.">
      The reason: {why}. No other reviewer of this registry may decide on it, so yours is the only decision.
    </Notice>
  );
}

function Mismatches({ view: { blind } }: { view: ReviewView }) {
  const differ = blind.readings.filter(({ seen }) => seen?.agrees === false);
  if (differ.length === 0) return null;
  return (
    <Notice
      kind="caution"
      title={`${differ.length} ${differ.length === 1 ? 'reading differs' : 'readings differ'} from the photo as you read it.`}
    >
      {differ.map(({ label }) => label).join(', ')}
    </Notice>
  );
}
