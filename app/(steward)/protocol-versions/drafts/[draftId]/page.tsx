import type { Metadata } from 'next';
import { one, type SearchParams } from '@/app/(public)/rankings/query';
import { idOrNotFound } from '@/app/(tester)/readView';
import { FreshNotice } from '@/app/account/FreshNotice';
import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { VersionDifferences } from '@/app/ui/VersionDifferences';
import { Minute, ZoneNote } from '@/app/ui/When';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { readDraft } from '@/lib/registry/protocol/drafts/draft';
import { readDryRunOutcome } from '@/lib/registry/protocol/drafts/dryRunOutcome';
import { stateText } from '../DraftList';
import { readDraftView } from '../readDraftView';
import { Activation } from './Activation';
import { DescribeForm } from './DescribeForm';
import { DraftButton } from './DraftButton';
import { DryRunPart } from './DryRunPart';

export const metadata: Metadata = { title: 'Protocol draft' };
export const dynamic = 'force-dynamic';

interface DraftPageProps {
  params: Promise<{ draftId: string }>;
  searchParams: Promise<SearchParams>;
}

export default async function DraftPage({ params, searchParams }: DraftPageProps) {
  const draftId = idOrNotFound((await params).draftId);
  const query = await searchParams;
  const path = `/protocol-versions/drafts/${draftId}`;
  const actor = await requireSignedIn(path);
  const view = await readDraftView(readDraft(registry(), actor, draftId));
  const outcome = await readDryRunOutcome(registry(), actor, { draftId, world: one(query, 'world') });
  const isOpen = view.state === 'draft' && view.mayEdit;
  return (
    <>
      <PageHeader
        title={`Draft of version ${view.label}`}
        breadcrumbs={[{ label: 'Protocol versions', href: '/protocol-versions' }, { label: view.label }]}
        lead={view.summary}
        meta={
          <>
            <span className="font-semibold">{stateText(view)}</span>
            <span>
              Begun from version {view.basedOn} by {view.createdBy.displayName}, last saved{' '}
              <Minute at={view.editedAt} />
            </span>
            <ZoneNote />
          </>
        }
      />
      <FreshNotice back={path} />
      {one(query, 'notice') === 'saved' ? (
        <Notice kind="done" title="The limits are saved." live outcome="saved">
          What they change stands under the differences.
        </Notice>
      ) : null}
      <Section id="differences" title={`Against version ${view.inForce.label}`} note="The version in force.">
        {view.state === 'published' ? (
          <p>
            What it changed stands on the{' '}
            <Link className="link" href="/protocol#versions">
              protocol’s page
            </Link>
            .
          </p>
        ) : (
          <VersionDifferences differences={view.differences} />
        )}
      </Section>
      {isOpen ? (
        <Section
          id="limits"
          title="Rules and limits"
          note="Each part is a form of its own and saved by itself."
        >
          <DataTable
            caption="Parts of the draft"
            captionHidden
            rows={view.parts}
            rowKey={(part) => part.slug}
            columns={[
              {
                key: 'part',
                header: 'Part',
                rowHeader: true,
                cell: (part) => (
                  <Link className="link" href={`${path}/limits/${part.slug}`}>
                    {part.title}
                  </Link>
                ),
              },
              {
                key: 'rules',
                header: 'Rules',
                align: 'end',
                cell: (part) => (part.of === 0 ? '–' : `${part.rules} of ${part.of}`),
              },
            ]}
          />
        </Section>
      ) : null}
      <Section id="dry-run" title="Dry run" wide>
        <DryRunPart view={view} outcome={outcome} />
      </Section>
      <Section id="publish" title="Put in force">
        <Activation view={view} />
      </Section>
      {isOpen ? (
        <Section id="words" title="Label and summary">
          <DescribeForm
            draftId={view.id}
            revision={view.revision}
            label={view.label}
            summary={view.summary}
          />
          <DraftButton act="discard" draftId={view.id} revision={view.revision}>
            Throw this draft away
          </DraftButton>
        </Section>
      ) : null}
    </>
  );
}
