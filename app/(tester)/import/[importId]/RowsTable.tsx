import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { Outcome } from '@/app/ui/Outcome';
import { Pagination } from '@/app/ui/Pagination';
import type { PlannedRow, RowVerdict } from '@/lib/capture/sheet/importReport';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';
import type { ImportPageView } from '@/lib/registry/imports/importPage';
import type { Display } from '@/lib/units/display';
import { sayFound } from '@/lib/units/said';
import { showWithUncertainty } from '@/lib/units/show';

const OUTCOMES = [
  { key: 'create', label: 'Makes a run' },
  { key: 'failing', label: 'Fails a rule' },
  { key: 'matched', label: 'Is a run already' },
  { key: 'refused', label: 'Refused' },
] as const;

interface RowsTableProps {
  view: ImportPageView;
  outcome: string | undefined;
  display: Display;
}

/** Row by row what the sheet does, by outcome and in pages, with result and findings as they are now. */
export function RowsTable({ view, outcome, display }: RowsTableProps) {
  const href = (key: string | undefined, page = 1) => {
    const query = new URLSearchParams({
      ...(key ? { outcome: key } : {}),
      ...(page > 1 ? { page: String(page) } : {}),
    });
    return `/import/${view.id}${query.size > 0 ? `?${query}` : ''}#rows`;
  };
  const counts = { ...view.counts, failing: view.judged.failing };
  const shown = OUTCOMES.filter(({ key }) => key !== 'failing' || counts.failing > 0);
  const hasResults = view.rows.some((row) => row.outcome === 'create' && row.verdict !== undefined);
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
          ...shown.map(({ key, label }) => ({
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
            cell: (row) =>
              row.outcome === 'create' && row.isDraft
                ? 'Kept as a draft'
                : OUTCOMES.find(({ key }) => key === row.outcome)?.label,
          },
          ...(hasResults
            ? [
                {
                  key: 'result',
                  header: 'Result',
                  align: 'end' as const,
                  cell: (row: PlannedRow) =>
                    row.outcome === 'create' ? resultWords(row.verdict, display) : '',
                },
              ]
            : []),
          {
            key: 'what',
            header: 'What',
            wide: true,
            cell: (row) => <RowWords row={row} display={display} />,
          },
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

function resultWords(verdict: RowVerdict | undefined, display: Display): string {
  if (verdict === undefined) return '';
  const { whPerKm, uWhPerKm } = verdict;
  if (whPerKm === null || uWhPerKm === null) return 'No number';
  return showWithUncertainty(whPerKm, uWhPerKm, 'consumption', display);
}

/** What fails stands open, what asks for caution is folded. */
function Found({ verdict, display }: { verdict: RowVerdict; display: Display }) {
  const of = (outcome: 'fail' | 'caution') => verdict.found.filter((one) => one.outcome === outcome);
  const [fails, cautions] = [of('fail'), of('caution')];
  return (
    <div className="mt-1 text-sm">
      {fails.length > 0 ? <FoundList found={fails} display={display} /> : null}
      {cautions.length > 0 ? (
        <details>
          <summary className="disclosure">
            {cautions.length} {cautions.length === 1 ? 'caution' : 'cautions'}
          </summary>
          <FoundList found={cautions} display={display} />
        </details>
      ) : null}
    </div>
  );
}

function FoundList({ found, display }: { found: RowVerdict['found']; display: Display }) {
  return (
    <ul className="space-y-1">
      {found.map((one) => (
        <li key={one.ruleId}>
          <Outcome outcome={one.outcome} />{' '}
          <span className="font-semibold">{wordsOfRule(one.ruleId).title}.</span>{' '}
          <span className="text-ink-soft">{sayFound(one, display)}</span>
        </li>
      ))}
    </ul>
  );
}

function RowWords({ row, display }: { row: PlannedRow; display: Display }) {
  if (row.outcome === 'create')
    return (
      <>
        {row.what}
        {row.verdict ? <Found verdict={row.verdict} display={display} /> : null}
      </>
    );
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
