import type { Metadata } from 'next';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { Section } from '@/app/ui/Section';
import { StatusTag } from '@/app/ui/StatusTag';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { recordForm } from '@/lib/registry/runs/recordForm';
import { nextOfStudies } from '@/lib/registry/studies/beginPlannedRun';
import { RUN_STATUS_LABELS, statusAfter } from '@/lib/run/runStatus';
import { studyOf } from '@/lib/study/nextToDrive';
import { idOrNotFound, readView } from '../../readView';
import { NextInStudy } from '../../studies/NextInStudy';
import { PageNotice } from './PageNotice';
import { RecordForm } from './RecordForm';
import { ReviewNote } from './ReviewNote';
import { SentActions } from './SentActions';
import { SentSummary } from './SentSummary';
import { TraceNote } from './trace/TraceNote';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Record a run' };

interface RecordRunPageProps {
  params: Promise<{ runId: string }>;
  searchParams: Promise<{ notice?: string | string[] }>;
}

export default async function RecordRunPage({ params, searchParams }: RecordRunPageProps) {
  const runId = idOrNotFound((await params).runId);
  const actor = await requireSignedIn(`/record/${runId}`);
  const view = await readView(recordForm(registry(), actor, runId));
  const { notice } = await searchParams;
  const isEditable = statusAfter(view.status, 'submit') !== undefined;
  const { begunForStudyId } = view;
  const of = isEditable ? undefined : studyOf(view.studies, { ...view.form, begunForStudyId });
  const next = of && (await nextOfStudies(registry(), actor)).find(({ study }) => study.slug === of.slug);
  return (
    <>
      <PageHeader
        title={`Run ${view.number}`}
        breadcrumbs={[{ label: 'Record', href: '/record' }, { label: `Run ${view.number}` }]}
        meta={
          <>
            <StatusTag state={view.status} label={RUN_STATUS_LABELS[view.status]} />
            {view.revisionNumber > 0 ? <span>Revision {view.revisionNumber} sent</span> : null}
          </>
        }
        actions={isEditable ? undefined : <SentActions view={view} />}
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      <PageNotice code={notice} />
      <ReviewNote review={view.review} />
      {isEditable ? (
        <>
          <SafetyCaution kind="record" />
          <TraceNote runId={runId} />
          <RecordForm
            key={`${view.runId} ${view.revisionNumber}`}
            view={view}
            display={await readerDisplay()}
          />
        </>
      ) : (
        <>
          {next ? (
            <Section id="next" title="Next in the study">
              <NextInStudy next={next} />
            </Section>
          ) : null}
          <SentSummary view={view} />
        </>
      )}
    </>
  );
}
