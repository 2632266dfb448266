import type { Metadata } from 'next';
import { TraceNotice } from '@/app/(tester)/record/[runId]/trace/TraceNotice';
import { UploadTrace } from '@/app/(tester)/record/[runId]/trace/UploadTrace';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { proposedLoop } from '@/lib/registry/loops/loopFromTrace';
import { idOrNothing, readView } from '../../../readView';
import { AddProposed } from './AddProposed';
import { Proposal } from './Proposal';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'A loop from a recording' };

interface FromTracePageProps {
  searchParams: Promise<{ trace?: string | string[]; notice?: string | string[] }>;
}

export default async function FromTracePage({ searchParams }: FromTracePageProps) {
  const actor = await requireSignedIn('/my/loops/from-trace');
  const query = await searchParams;
  const traceId = idOrNothing(query.trace);
  const proposal = traceId ? await readView(proposedLoop(registry(), actor, traceId)) : undefined;
  return (
    <>
      <PageHeader
        title="A loop from a recording"
        lead="One drive out and back, recorded by satellite positioning, tells length, legs, directions and heights."
        breadcrumbs={[
          { label: 'My runs', href: '/my' },
          { label: 'Add a loop', href: '/my/loops/new' },
          { label: 'From a recording' },
        ]}
      />
      <TraceNotice code={query.notice} />
      {traceId && proposal ? (
        <>
          <Proposal proposal={proposal} display={await readerDisplay()} />
          <AddProposed traceId={traceId} values={proposal.form} />
        </>
      ) : null}
      <Section
        id="upload"
        title={proposal ? 'Another recording' : 'Send a recording'}
        note="It is dropped once the loop is added; the outline is kept without its ends and without saying where on earth it lies."
      >
        <UploadTrace
          to="/my/loops/from-trace/upload"
          then="/my/loops/from-trace"
          isReplacing={proposal !== undefined}
          isForLoop
        />
      </Section>
    </>
  );
}
