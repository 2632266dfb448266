import { Notice } from '@/app/ui/Notice';
import type { ReviewView } from '@/lib/registry/review/review';
import { wallClockWords } from '@/lib/run/localDate';
import { ClaimForm } from './ClaimForm';

/** Who has this run, and what can be done about it. It takes the focus of a button that went with what it did. */
export function ClaimBar({ view }: { view: ReviewView }) {
  return (
    <section tabIndex={-1} aria-label="Claim">
      <Claim view={view} />
    </section>
  );
}

function Claim({ view }: { view: ReviewView }) {
  const { review, run } = view;
  const clock = (at: string) => wallClockWords(Date.parse(at), run.subject.utcOffsetMin);
  switch (review.kind) {
    case 'free':
      return (
        <Notice kind="info" title="Nobody has claimed this run.">
          {run.awaitsSecond ? <p>It waits for a second approval: another reviewer has approved it.</p> : null}
          <ClaimForm runId={run.runId} what="claim" />
        </Notice>
      );
    case 'mine':
      return (
        <Notice kind="info" title={`You claimed this run on ${clock(review.since)}.`}>
          <ClaimForm runId={run.runId} what="release" />
        </Notice>
      );
    case 'taken':
      return (
        <Notice kind="caution" title={`${review.by} claimed this run on ${clock(review.since)}.`}>
          <p>You can read along; the decision is theirs.</p>
          {review.mayRelease ? <ClaimForm runId={run.runId} what="release" /> : null}
        </Notice>
      );
    case 'own':
      return <Notice kind="caution" title="This is your own run: another reviewer decides on it." />;
    case 'notYours':
      return <Notice kind="caution" title={review.why} />;
    case 'decided':
      return (
        <Notice kind="caution" title="This run does not wait for a decision any more.">
          <p>The review trail below tells what became of it.</p>
        </Notice>
      );
  }
}
