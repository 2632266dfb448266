import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { PageHeader } from '@/app/ui/PageHeader';
import { Minute, ZoneNote } from '@/app/ui/When';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { readCorrections } from '@/lib/registry/corrections/corrections';
import { CORRECTION_STATES } from './words';

export const metadata: Metadata = { title: 'Corrections' };
export const dynamic = 'force-dynamic';

export default async function CorrectionsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const actor = await requireSignedIn('/corrections');
  const isOpen = one(params, 'state') !== 'decided';
  const view = await readCorrections(registry(), actor, { from: one(params, 'from'), isOpen });
  return (
    <>
      <PageHeader
        title="Corrections"
        lead="What was wrong of a car, a loop, a model or a reading is put right together with every run that was computed from it. Until a reviewer approves it, the runs count as they are."
        meta={
          <>
            <span>
              {view.total} {isOpen ? 'open' : 'decided'}
              {view.ofAll ? '' : ', of yours or of runs of yours'}
            </span>
            <ZoneNote />
          </>
        }
      />
      <LinkTabs
        label="Which corrections"
        tabs={[
          { href: '/corrections', label: 'Open', current: isOpen },
          { href: '/corrections?state=decided', label: 'Decided', current: !isOpen },
        ]}
      />
      <DataTable
        caption={isOpen ? 'Open corrections, oldest first' : 'Decided corrections, newest first'}
        captionHidden
        rows={view.rows}
        rowKey={(row) => String(row.number)}
        empty={
          isOpen
            ? 'None is open. One is proposed on the page of the car, loop, model or run that it is about.'
            : 'None was decided yet.'
        }
        columns={[
          {
            key: 'number',
            header: 'Correction',
            rowHeader: true,
            cell: (row) => (
              <>
                <Link className="link num" href={`/corrections/${row.number}`}>
                  Correction {row.number}
                </Link>
                {row.world === 'demo' ? (
                  <span className="block">
                    <DemoMark inline />
                  </span>
                ) : null}
              </>
            ),
          },
          { key: 'of', header: 'Of', wide: true, cell: (row) => row.subject.words },
          { key: 'state', header: 'State', cell: (row) => CORRECTION_STATES[row.state] },
          { key: 'runs', header: 'Runs', align: 'end', cell: (row) => row.runs },
          { key: 'reason', header: 'Why', wide: true, cell: (row) => row.reason },
          {
            key: 'by',
            header: 'Proposed',
            cell: (row) => (
              <>
                {row.proposedBy.displayName}
                <span className="block text-ink-soft">
                  <Minute at={row.proposedAt} />
                </span>
              </>
            ),
          },
        ]}
      />
      <KeysetPages
        {...view}
        label="Pages of corrections"
        hrefFor={(from) => hrefWith('/corrections', params, { from })}
      />
    </>
  );
}
