import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { Day } from '@/app/ui/When';
import { registry } from '@/app/visitor/registry';
import { readStudies } from '@/lib/registry/studies/studies';
import { dateText } from '@/lib/run/localDate';
import { STUDY_STATE_LABELS } from '@/lib/study/studyState';
import { hrefWith, one, type SearchParams } from '../rankings/query';

export const metadata = pageMetadata('studies');
export const dynamic = 'force-dynamic';

const EMPTY = {
  draft: 'No plan is being written.',
  running: 'No study is being driven.',
  complete: 'No study has been driven to its end yet.',
  abandoned: 'None was given up.',
} as const;

export default async function StudiesPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const view = await readStudies(registry(), {
    state: one(params, 'state'),
    world: one(params, 'world'),
    from: one(params, 'from'),
  });
  return (
    <>
      <PageHeader
        title="Studies"
        lead="A question about one change, with a plan that was fixed before anybody drove. All of them stay listed, whatever came out."
        actions={
          <>
            <LinkButton href="/studies/new">Plan a study</LinkButton>
            <LinkButton href="/requests">What to drive next</LinkButton>
          </>
        }
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      <LinkTabs
        label="Which studies"
        tabs={view.counts.map(({ state, count }) => ({
          href: hrefWith('/studies', params, { state, from: undefined }),
          label: STUDY_STATE_LABELS[state],
          count,
          current: state === view.state,
        }))}
      />
      <DataTable
        caption={`${STUDY_STATE_LABELS[view.state]}, the newest first`}
        captionHidden
        rows={view.rows}
        rowKey={(row) => row.slug}
        empty={EMPTY[view.state]}
        columns={[
          {
            key: 'question',
            header: 'Question',
            rowHeader: true,
            wide: true,
            cell: (row) => (
              <Link className="link" href={`/studies/${row.slug}`}>
                {row.question}
              </Link>
            ),
          },
          { key: 'model', header: 'Car', cell: (row) => `${row.model}, ${row.classLabel}` },
          {
            key: 'runs',
            header: 'Runs',
            align: 'end',
            answer: true,
            cell: (row) => (row.planned ? `${row.runs} of ${row.planned.runs}` : String(row.runs)),
          },
          { key: 'days', header: 'Days', align: 'end', cell: (row) => row.planned?.days ?? '–' },
          {
            key: 'by',
            header: 'By',
            cell: (row) => (
              <Link className="link" href={`/testers/${row.by.slug}`}>
                {row.by.displayName}
              </Link>
            ),
          },
          { key: 'at', header: 'Since', cell: (row) => <Day of={dateText(row.at)} /> },
        ]}
      />
      <KeysetPages
        {...view}
        label="Pages of studies"
        hrefFor={(from) => hrefWith('/studies', params, { from })}
      />
    </>
  );
}
