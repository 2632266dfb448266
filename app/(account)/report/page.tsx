import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { one, type SearchParams } from '@/app/(public)/rankings/query';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { readReportable } from '@/lib/registry/reports/sendReport';
import { NotFound } from '@/lib/run/errors';
import { REPORTED_KINDS, type ReportedKind, reportedHref, reportedWords } from '@/lib/run/reports';
import { ReportForm } from './ReportForm';

export const metadata: Metadata = { title: 'Report', robots: { index: false } };
export const dynamic = 'force-dynamic';

export default async function ReportPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const kind = REPORTED_KINDS.find((known) => known === one(params, 'kind'));
  const key = one(params, 'key') ?? '';
  const query = new URLSearchParams({ kind: kind ?? '', key });
  const actor = await requireSignedIn(`/report?${query}`);
  if (kind === undefined) notFound();
  const words = await wordsOf(kind, key, actor);
  return (
    <>
      <PageHeader
        title="Report something wrong"
        lead={
          <>
            About{' '}
            <Link className="link" href={reportedHref(kind, key)}>
              {words}
            </Link>
            . Reviewers and stewards read it, nobody else ever does; your name goes with it.
          </>
        }
      />
      <ReportForm kind={kind} of={key} />
    </>
  );
}

async function wordsOf(
  kind: ReportedKind,
  key: string,
  actor: Awaited<ReturnType<typeof requireSignedIn>>,
): Promise<string> {
  try {
    return reportedWords(kind, (await readReportable(registry(), actor, { kind, key })).name);
  } catch (error) {
    if (error instanceof NotFound) notFound();
    throw error;
  }
}
