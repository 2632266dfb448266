import type { Metadata } from 'next';
import { FreshNotice } from '@/app/account/FreshNotice';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { readDrafts } from '@/lib/registry/protocol/drafts/draft';
import { readProtocolOffer } from '@/lib/registry/protocol/protocolOffer';
import { dayWords } from '@/lib/run/localDate';
import { DraftList } from './drafts/DraftList';
import { StartForm } from './drafts/StartForm';
import { Publication } from './Publication';

export const metadata: Metadata = { title: 'Protocol versions' };
export const dynamic = 'force-dynamic';

export default async function ProtocolVersionsPage() {
  const actor = await requireSignedIn('/protocol-versions');
  const view = await forRole(readProtocolOffer(registry(), actor));
  const drafts = await readDrafts(registry(), actor);
  return (
    <>
      <PageHeader
        title="Protocol versions"
        lead="A new version of the protocol judges every run that is sent in after it came into force. Runs already sent in keep the version that they were judged by, and their findings."
        meta={`Version ${view.inForce.label} is in force since ${dayWords(view.inForce.since)}`}
      />
      <p className="max-w-[46rem]">
        Every version that was ever in force, whole and with what it changed, stands on the{' '}
        <Link className="link" href="/protocol#versions">
          protocol’s page
        </Link>
        .
      </p>
      <FreshNotice back="/protocol-versions" />
      <Publication view={view} />
      <Section
        id="drafts"
        title="Drafts"
        note="Versions of your own: limits changed, rules added or left out, tried over all approved runs before they judge."
      >
        <DraftList drafts={drafts} />
        {view.mayPublish ? (
          <div className="mt-8">
            <StartForm inForceLabel={view.inForce.label} />
          </div>
        ) : null}
      </Section>
    </>
  );
}
