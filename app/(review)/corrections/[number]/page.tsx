import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { readView } from '@/app/(tester)/readView';
import { runNumber } from '@/app/runDossier/runNumber';
import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { Minute, ZoneNote } from '@/app/ui/When';
import { WorkProgress } from '@/app/ui/WorkProgress';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readCorrection } from '@/lib/registry/corrections/correction';
import { CORRECTION_STATES } from '../words';
import { CorrectedRuns } from './CorrectedRuns';
import { DecisionPart } from './DecisionPart';
import { Outcome } from './Outcome';
import { Summary } from './Summary';

export const dynamic = 'force-dynamic';

interface CorrectionPageProps {
  params: Promise<{ number: string }>;
  searchParams: Promise<SearchParams>;
}

export async function generateMetadata({ params }: CorrectionPageProps): Promise<Metadata> {
  return { title: `Correction ${runNumber((await params).number) ?? ''}`.trim() };
}

export default async function CorrectionPage({ params, searchParams }: CorrectionPageProps) {
  const number = runNumber((await params).number);
  if (number === undefined) notFound();
  const query = await searchParams;
  const actor = await requireSignedIn(`/corrections/${number}`);
  const display = await readerDisplay();
  const view = await readView(
    readCorrection(registry(), actor, number, { from: one(query, 'from'), display }),
  );
  return (
    <>
      <PageHeader
        title={`Correction ${number}`}
        breadcrumbs={[{ label: 'Corrections', href: '/corrections' }, { label: `Correction ${number}` }]}
        meta={
          <>
            <span className="font-semibold">{CORRECTION_STATES[view.state]}</span>
            <span>
              Proposed by {view.proposedBy.displayName}, <Minute at={view.proposedAt} />
            </span>
            <ZoneNote />
          </>
        }
        lead={
          <>
            Of{' '}
            {view.subject.href === undefined ? (
              view.subject.words
            ) : (
              <Link className="link" href={view.subject.href}>
                {view.subject.words}
              </Link>
            )}
            .
          </>
        }
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      {one(query, 'notice') === 'proposed' && view.state !== 'approved' ? (
        <Notice
          kind="done"
          title="The correction is proposed. Nothing has changed yet."
          live
          outcome="proposed"
        >
          Once a reviewer has approved it, all of its runs count by their new revisions; you are told.
        </Notice>
      ) : null}
      <WorkProgress
        progress={view.progress}
        words="runs looked at"
        title="What it makes of the runs is being computed."
      />
      {view.fault === null ? null : <Notice kind="problem" title={view.fault} />}
      <Outcome view={view} />
      <Section id="change" title="What is to be changed">
        <p className="mb-4 max-w-[46rem] whitespace-pre-line">{view.reason}</p>
        <DataTable
          caption="Values that change"
          captionHidden
          rows={view.changes}
          rowKey={(row) => row.key}
          empty="What was to be changed can no longer be read."
          columns={[
            { key: 'label', header: 'Value', rowHeader: true, cell: (row) => row.label },
            { key: 'before', header: 'On file', cell: (row) => row.before || 'empty' },
            { key: 'after', header: 'Corrected', cell: (row) => row.after || 'empty' },
          ]}
        />
      </Section>
      {view.state === 'computing' ? null : (
        <Section id="runs" title="Its runs" wide>
          <Summary sums={view.sums} display={display} />
          <CorrectedRuns rows={view.runs.rows} display={display} />
          <KeysetPages
            {...view.runs}
            label="Pages of runs"
            hrefFor={(from) => hrefWith(`/corrections/${number}`, query, { from, notice: undefined })}
          />
        </Section>
      )}
      <DecisionPart view={view} />
    </>
  );
}
