import type { Metadata } from 'next';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { draftTrace } from '@/lib/registry/traces/draftTrace';
import { idOrNotFound, readView } from '../../../readView';
import { Offers } from './Offers';
import { Parts, TakeOff } from './Parts';
import { TraceNotice } from './TraceNotice';
import { TraceSummary } from './TraceSummary';
import { UploadTrace } from './UploadTrace';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Recording of a run' };

interface TracePageProps {
  params: Promise<{ runId: string }>;
  searchParams: Promise<{ notice?: string | string[] }>;
}

export default async function TracePage({ params, searchParams }: TracePageProps) {
  const runId = idOrNotFound((await params).runId);
  const actor = await requireSignedIn(`/record/${runId}/trace`);
  const view = await readView(draftTrace(registry(), actor, runId));
  const { trace, unreadableFile, isEditable } = view;
  return (
    <>
      <PageHeader
        title={`Recording of run ${view.number}`}
        lead="A track by satellite positioning says how fast, how steadily and how far you drove."
        breadcrumbs={[
          { label: 'Record', href: '/record' },
          { label: `Run ${view.number}`, href: `/record/${runId}` },
          { label: 'Recording' },
        ]}
        actions={<LinkButton href={`/record/${runId}`}>Back to the form</LinkButton>}
      />
      <TraceNotice code={(await searchParams).notice} />
      {unreadableFile === null ? null : (
        <Notice kind="caution" title={`What was kept of “${unreadableFile}” can no longer be read.`}>
          Send the file again, or take the recording off: a run is not submitted with one that cannot be read.
        </Notice>
      )}
      {trace ? (
        <Section id="summary" title="What was read">
          <TraceSummary trace={trace} display={await readerDisplay()} />
        </Section>
      ) : null}
      {trace && isEditable ? (
        <>
          <Section
            id="values"
            title="For the form"
            note="Nothing typed is changed unless you tick it here. The result uses the recording’s own speed either way."
          >
            <Offers key={view.draftVersion} view={view} />
          </Section>
          <Section id="part" title="Part and privacy">
            <Parts key={trace.uploadedAt} runId={runId} trace={trace} />
          </Section>
        </>
      ) : null}
      {isEditable ? (
        <Section
          id="upload"
          title={trace ? 'Another file' : 'Send a recording'}
          note="The file itself is seen by you and by reviewers. Readers see the track without its ends."
        >
          <UploadTrace
            to={`/api/runs/${runId}/trace`}
            then={`/record/${runId}/trace`}
            isReplacing={trace !== null || unreadableFile !== null}
          />
          {trace || unreadableFile ? <TakeOff runId={runId} /> : null}
        </Section>
      ) : null}
    </>
  );
}
