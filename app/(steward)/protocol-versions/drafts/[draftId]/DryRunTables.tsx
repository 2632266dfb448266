import { type Column, DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import type { DryRunOutcomeView, TurnedCounts } from '@/lib/registry/protocol/drafts/dryRunOutcome';
import { outcomeWords, TURNED_COLUMNS } from './turnedText';

interface DryRunTablesProps {
  draftId: string;
  outcome: DryRunOutcomeView;
}

/** What turns, by rule, class and setup, each count a link to its runs. */
export function DryRunTables({ draftId, outcome: { rules, classes, setups, sums } }: DryRunTablesProps) {
  const hrefFor = (filter: Record<string, string>) =>
    `/protocol-versions/drafts/${draftId}/runs?${new URLSearchParams({ world: sums.world, ...filter })}`;
  const counted = <Row extends TurnedCounts>(filterOf: (row: Row) => Record<string, string>): Column<Row>[] =>
    TURNED_COLUMNS.map(({ key, header }) => ({
      key,
      header,
      align: 'end',
      cell: (row) =>
        row[key] === 0 ? (
          0
        ) : (
          <Link className="link num" href={hrefFor({ ...filterOf(row), to: key })}>
            {row[key]}
          </Link>
        ),
    }));
  return (
    <div className="mt-6 space-y-8">
      <div>
        <h3 className="mb-2">By rule</h3>
        <DataTable
          caption="Runs by rule"
          captionHidden
          rows={rules}
          rowKey={(row) => row.ruleId}
          empty="No rule says anything else of any run."
          columns={[
            { key: 'rule', header: 'Rule', rowHeader: true, cell: (row) => row.title },
            {
              key: 'turns',
              header: 'Runs of which it says something else',
              cell: (row) => (
                <ul>
                  {row.turns.map(({ before, after, runs }) => (
                    <li key={`${before} ${after}`}>
                      <Link
                        className="link num"
                        href={hrefFor({ rule: row.ruleId, ...(after === null ? {} : { to: after }) })}
                      >
                        {runs}
                      </Link>{' '}
                      from {outcomeWords(before)} to {outcomeWords(after)}
                    </li>
                  ))}
                </ul>
              ),
            },
          ]}
          footnote="A run counts once for each rule; of rules that only one of the versions has, only cautions and fails are told."
        />
      </div>
      {classes.length === 0 ? null : (
        <div>
          <h3 className="mb-2">By class</h3>
          <DataTable
            caption="Runs by class"
            captionHidden
            rows={classes}
            rowKey={(row) => row.key}
            columns={[
              { key: 'class', header: 'Class', rowHeader: true, cell: (row) => row.label },
              ...counted<(typeof classes)[number]>((row) => ({ class: row.key })),
            ]}
          />
        </div>
      )}
      {setups.length === 0 ? null : (
        <div>
          <h3 className="mb-2">By setup</h3>
          <DataTable
            caption="Runs by setup"
            captionHidden
            rows={setups}
            rowKey={(row) => row.id}
            columns={[
              {
                key: 'setup',
                header: 'Setup',
                rowHeader: true,
                cell: (row) => (
                  <Link className="link" href={`/setups/${row.slug}`}>
                    {row.title}
                  </Link>
                ),
              },
              ...counted<(typeof setups)[number]>((row) => ({ setup: row.id })),
            ]}
            footnote={setups.length < 25 ? undefined : 'The 25 setups with most runs that turn.'}
          />
        </div>
      )}
    </div>
  );
}
