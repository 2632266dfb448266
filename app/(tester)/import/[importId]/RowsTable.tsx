import Link from 'next/link';
import { DataTable } from '@/app/ui/DataTable';
import { LinkButton } from '@/app/ui/LinkButton';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { Pagination } from '@/app/ui/Pagination';
import type { PlannedRow } from '@/lib/capture/sheet/importReport';
import type { ImportPageView } from '@/lib/registry/imports/importPage';

const OUTCOMES = [
  { key: 'create', label: 'Makes a run' },
  { key: 'matched', label: 'Is a run already' },
  { key: 'refused', label: 'Refused' },
] as const;

/** Row by row what the sheet does, by outcome and in pages. */
export function RowsTable({ view, outcome }: { view: ImportPageView; outcome: string | undefined }) {
  const href = (key: string | undefined, page = 1) => {
    const query = new URLSearchParams({
      ...(key ? { outcome: key } : {}),
      ...(page > 1 ? { page: String(page) } : {}),
    });
    return `/import/${view.id}${query.size > 0 ? `?${query}` : ''}#rows`;
  };
  const { counts } = view;
  return (
    <>
      <LinkTabs
        label="Rows by outcome"
        tabs={[
          {
            href: href(undefined),
            label: 'All rows',
            current: outcome === undefined,
            count: counts.create + counts.matched + counts.refused,
          },
          ...OUTCOMES.map(({ key, label }) => ({
            href: href(key),
            label,
            current: outcome === key,
            count: counts[key],
          })),
        ]}
      />
      <DataTable
        caption="Rows of the sheet"
        captionHidden
        rows={view.rows}
        rowKey={(row) => String(row.row)}
        empty="No such rows."
        columns={[
          { key: 'row', header: 'Row', align: 'end', rowHeader: true, cell: (row) => row.row },
          {
            key: 'outcome',
            header: 'Outcome',
            cell: (row) => OUTCOMES.find(({ key }) => key === row.outcome)?.label,
          },
          { key: 'what', header: 'What', wide: true, cell: (row) => <RowWords row={row} /> },
        ]}
      />
      <Pagination
        page={view.page}
        pageCount={view.pageCount}
        hrefFor={(page) => href(outcome, page)}
        label="Pages of rows"
      />
      {counts.refused + counts.matched > 0 ? (
        <div className="mt-6">
          <LinkButton href={`/import/${view.id}/faults.csv`} download>
            Rows that make no run, as CSV
          </LinkButton>
        </div>
      ) : null}
    </>
  );
}

function RowWords({ row }: { row: PlannedRow }) {
  if (row.outcome === 'create') return row.what;
  if (row.outcome === 'matched') {
    return (
      <>
        {row.what}{' '}
        <Link href={`/runs/${row.runNumber}`} className="link num">
          Run {row.runNumber}
        </Link>
      </>
    );
  }
  return (
    <ul className="space-y-1">
      {row.problems.map((problem) => (
        <li key={`${problem.cell} ${problem.message}`}>
          <span className="num font-semibold">{problem.cell}</span> {problem.message}
        </li>
      ))}
    </ul>
  );
}
