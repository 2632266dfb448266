import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import type { OpenReReview } from '@/lib/registry/review/reReview';

/** Decisions of others that were drawn to be read again, for whoever has a moment. */
export function ReadAgain({ rows }: { rows: readonly OpenReReview[] }) {
  if (rows.length === 0) return null;
  return (
    <Notice kind="info" title="Drawn to be read again, without the first decision">
      <ul className="flex flex-wrap gap-x-4">
        {rows.map(({ runNumber }) => (
          <li key={runNumber}>
            <Link className="link num" href={`/re-review/${runNumber}`}>
              Run {runNumber}
            </Link>
          </li>
        ))}
      </ul>
    </Notice>
  );
}
