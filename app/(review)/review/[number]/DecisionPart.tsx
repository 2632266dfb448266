import Link from 'next/link';
import type { ReviewView } from '@/lib/registry/review/review';
import { DecisionForm } from './DecisionForm';

/** The form where this reviewer holds the claim; otherwise what is in the way. */
export function DecisionPart({ view }: { view: ReviewView }) {
  const { review, run, reasons } = view;
  if (review.kind === 'mine') {
    const notable = new Set(run.findings.notable.map((finding) => finding.ruleId));
    return (
      <DecisionForm
        runId={run.runId}
        number={run.number}
        revisionNumber={run.revisionNumber}
        isApprovable={view.isApprovable}
        failed={reasons.mustCite}
        cautioned={reasons.mayCite.filter((choice) => notable.has(choice.ruleId))}
        others={reasons.mayCite.filter((choice) => !notable.has(choice.ruleId))}
      />
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
