import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { PageHeader } from '@/app/ui/PageHeader';
import { Day } from '@/app/ui/When';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { type ReportRow, readReports } from '@/lib/registry/reports/reports';
import { SettleForm } from './SettleForm';

export const metadata: Metadata = { title: 'Reports' };
export const dynamic = 'force-dynamic';

const PATH = '/reports';

export default async function ReportsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const isOpen = one(params, 'state') !== 'settled';
  const view = await forRole(
    readReports(registry(), await requireSignedIn(PATH), { isOpen, from: one(params, 'from') }),
  );
  return (
    <>
      <PageHeader
        title="Reports"
        meta={`${view.total} ${isOpen ? 'open' : 'settled'}`}
        lead="What people with an account say is wrong with a public page. Their words are for reviewers and stewards alone; each sender is told what came of it."
      />
      <LinkTabs
        label="State"
        tabs={[
          { href: PATH, label: 'Open', current: isOpen },
          { href: `${PATH}?state=settled`, label: 'Settled', current: !isOpen },
        ]}
      />
      {view.rows.length === 0 ? <EmptyState title={isOpen ? 'Nothing waits.' : 'Nothing yet.'} /> : null}
      <ul className="mt-6 space-y-8">
        {view.rows.map((row) => (
          <li key={row.id} className="max-w-[46rem] border-t border-rule pt-4">
            <Report row={row} />
          </li>
        ))}
      </ul>
      <KeysetPages {...view} label="Pages of reports" hrefFor={(from) => hrefWith(PATH, params, { from })} />
    </>
  );
}

function Report({ row }: { row: ReportRow }) {
  const about = row.about?.words ?? `a ${row.kind} that is not public any more`;
  return (
    <>
      <h2 className="text-lg font-semibold">
        {row.reason}:{' '}
        {row.about === undefined ? (
          about
        ) : (
          <Link className="link" href={row.about.href}>
            {about}
          </Link>
        )}
      </h2>
      <p className="text-sm text-ink-soft">
        By{' '}
        <Link className="link" href={`/testers/${row.by.slug}`}>
          {row.by.displayName}
        </Link>
        , <Day of={row.at.slice(0, 10)} /> {row.world === 'demo' ? <DemoMark inline /> : null}
      </p>
      <p className="mt-2 whitespace-pre-line">{row.words}</p>
      {row.settled === undefined ? null : (
        <p className="mt-2 border-l-2 border-rule-strong pl-3">
          <span className="font-semibold">{row.settled.decision}</span> by {row.settled.by},{' '}
          <Day of={row.settled.at.slice(0, 10)} />: {row.settled.answer}
        </p>
      )}
      {row.maySettle ? <SettleForm reportId={row.id} about={about} /> : null}
      {row.settled === undefined && !row.maySettle ? (
        <p className="mt-2 text-sm text-ink-soft">
          Another reviewer settles it: it is yours, or about something of yours.
        </p>
      ) : null}
    </>
  );
}
