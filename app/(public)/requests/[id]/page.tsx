import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { idOrNotFound } from '@/app/(tester)/readView';
import { DemoMark } from '@/app/ui/DemoMark';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { Day } from '@/app/ui/When';
import { signedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { readRequest } from '@/lib/registry/requests/requests';
import { dateText } from '@/lib/run/localDate';
import { REQUEST_STATE_LABELS } from '@/lib/study/requestState';
import { CloseButton, HideForm, VoiceButton } from '../RequestForms';
import { StudiesOf, voicesText } from '../RequestItem';

export const dynamic = 'force-dynamic';

interface RequestPageProps {
  params: Promise<{ id: string }>;
}

export async function generateMetadata({ params }: RequestPageProps): Promise<Metadata> {
  const id = idOrNotFound((await params).id);
  const request = await readRequest(registry(), undefined, id);
  return request === undefined
    ? pageMetadata('requests')
    : pageMetadata('requests', { title: request.question, path: `/requests/${id}` });
}

export default async function RequestPage({ params }: RequestPageProps) {
  const id = idOrNotFound((await params).id);
  const request = await readRequest(registry(), await signedIn(), id);
  if (request === undefined) notFound();
  const { mine } = request;
  return (
    <>
      <PageHeader
        title={request.question}
        breadcrumbs={[
          { label: 'What to drive next', href: `/requests?class=${request.classKey}&world=${request.world}` },
          { label: 'A request' },
        ]}
        lead={`${request.words}, of the ${request.model}, at ${request.classLabel}.`}
        meta={
          <>
            <span className="font-semibold">{REQUEST_STATE_LABELS[request.state]}</span>
            <span>{voicesText(request.voices)}</span>
            <span>
              Asked by{' '}
              <Link className="link" href={`/testers/${request.by.slug}`}>
                {request.by.displayName}
              </Link>{' '}
              on <Day of={dateText(request.askedAt)} />
            </span>
          </>
        }
        actions={
          mine.mayTake ? (
            <LinkButton href={`/studies/new?request=${request.id}`}>Plan a study of it</LinkButton>
          ) : null
        }
      />
      {request.world === 'demo' ? <DemoMark /> : null}
      {request.hiddenReason === null ? null : (
        <Notice kind="caution" title="Hidden: only stewards see this page.">
          <p>{request.hiddenReason}</p>
        </Notice>
      )}
      <StudiesOf request={request} />
      <div className="mt-4 flex flex-wrap gap-x-8 gap-y-3">
        {mine.mayBack ? <VoiceButton requestId={request.id} backs={mine.backs} /> : null}
        {mine.mayClose ? <CloseButton requestId={request.id} /> : null}
      </div>
      {mine.mayHide ? (
        <details className="mt-6">
          <summary className="disclosure">Hide it</summary>
          <HideForm requestId={request.id} />
        </details>
      ) : null}
    </>
  );
}
