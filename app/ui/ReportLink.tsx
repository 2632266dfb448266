import type { ReportedKind } from '@/lib/run/reports';
import { Link } from './Link';

/** At the foot of a public page: says to reviewers that something about it is wrong. */
export function ReportLink({ kind, of }: { kind: ReportedKind; of: string | number }) {
  return (
    <p className="no-print mt-10 text-sm">
      <Link
        className="link inline-flex min-h-11 items-center"
        href={`/report?kind=${kind}&key=${of}`}
        rel="nofollow"
      >
        Report something wrong with this {kind}
      </Link>
    </p>
  );
}
