import { Notice } from '@/app/ui/Notice';
import type { RecordFormView } from '@/lib/registry/runs/recordForm';
import { dayWords } from '@/lib/run/localDate';

/** What the reviewer asked for as a whole; each reason also stands beside the field that it concerns. */
export function ReviewNote({ review }: { review: RecordFormView['review'] }) {
  if (review === undefined) return null;
  return (
    <Notice
      kind="caution"
      title={`A reviewer asked for changes on ${dayWords(review.decidedAt.slice(0, 10))}`}
    >
      {review.note ? <p>{review.note}</p> : null}
      <ul className="space-y-1">
        {review.remarks.map((remark) => (
          <li key={remark.ruleId}>
            {remark.section ? (
              <a href={`#${remark.field ?? `part-${remark.section}`}`} className="link font-semibold">
                {remark.title}
              </a>
            ) : (
              <strong>{remark.title}</strong>
            )}
            : {remark.text}
          </li>
        ))}
      </ul>
      <p>Correct what is named and submit again: it becomes the next revision, the earlier one is kept.</p>
    </Notice>
  );
}
